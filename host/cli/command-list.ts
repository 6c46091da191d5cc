import type { Command } from 'commander';

/** A command's file: it adds the options, the examples and the work to the command of its name. */
interface CommandFile {
  define(command: Command): void;
}

interface ListedCommand {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  readonly load: () => Promise<CommandFile>;
}

export interface CommandGroup {
  readonly heading: string;
  readonly commands: readonly ListedCommand[];
}

/**
 * Every command there is. Only the file of the one that is asked for is loaded, so that help and mistakes
 * answer at once.
 */
export const commandGroups: readonly CommandGroup[] = [
  {
    heading: 'Planning, without a board:',
    commands: [
      {
        name: 'new',
        summary: 'make a recipe, a strip or baths by answering questions, or a recipe from old notes',
        load: () => import('./commands/new.js'),
      },
      {
        name: 'change',
        summary: 'change a recipe by answering questions, or one thing of it by --set',
        load: () => import('./commands/change.js'),
      },
      {
        name: 'strip',
        summary: 'plan a test strip: the exposure of each patch, and how to give it',
        load: () => import('./commands/strip.js'),
      },
      {
        name: 'check',
        summary: 'find every mistake in a recipe file',
        load: () => import('./commands/check.js'),
      },
      {
        name: 'timeline',
        summary: 'show how long the lamp will be on for a recipe, pass by pass',
        load: () => import('./commands/timeline.js'),
      },
      {
        name: 'schema',
        summary: 'print the JSON Schema of the files you write, for your editor',
        load: () => import('./commands/schema.js'),
      },
    ],
  },
  {
    heading: 'From one print to the next, by daylight:',
    commands: [
      {
        name: 'rescale',
        summary: 'find the new exposure for another print size, lens stop or paper',
        load: () => import('./commands/rescale.js'),
      },
      {
        name: 'contrast',
        summary: 'find the grade or filter for a negative, from a test strip or a densitometer',
        load: () => import('./commands/contrast.js'),
      },
      {
        name: 'filter',
        summary: 'change the filter of a pass, and its exposure by the filter factor',
        load: () => import('./commands/filter.js'),
      },
      {
        name: 'split',
        summary: 'make a split-grade base, soft and hard, from two test strips',
        load: () => import('./commands/split.js'),
      },
      {
        name: 'dry-down',
        summary: 'measure how much darker a paper dries, and correct a recipe for it',
        load: () => import('./commands/dry-down.js'),
      },
      {
        name: 'map',
        summary: 'draw a printing map, one page to keep with the negative',
        load: () => import('./commands/map.js'),
      },
      {
        name: 'preview',
        summary: 'make a picture of what a recipe or a test strip would print',
        load: () => import('./commands/preview.js'),
      },
    ],
  },
  {
    heading: 'The board:',
    commands: [
      {
        name: 'sim',
        summary: 'run a simulated board in this terminal, with keys for pedal and knob',
        load: () => import('./commands/sim.js'),
      },
      {
        name: 'evening',
        summary: 'play a whole evening on a simulated board, and show the prints',
        load: () => import('./commands/evening.js'),
      },
      {
        name: 'ports',
        summary: 'list the serial ports, and the board at each',
        load: () => import('./commands/ports.js'),
      },
      {
        name: 'info',
        summary: 'show the board: its version, its paper, what is chosen, how full its log is',
        load: () => import('./commands/info.js'),
      },
      {
        name: 'diagnose',
        summary: 'count the errors on the cable, and say what to do about each',
        load: () => import('./commands/diagnose.js'),
      },
      {
        name: 'settings',
        summary: 'show or change the settings of the board',
        load: () => import('./commands/settings.js'),
      },
      {
        name: 'baths',
        summary: 'show or set the baths: their times, their limits, and when one was mixed fresh',
        load: () => import('./commands/baths.js'),
      },
      {
        name: 'watch',
        summary: 'show what happens at the enlarger as it happens',
        load: () => import('./commands/watch.js'),
      },
    ],
  },
  {
    heading: 'Recipes on the board:',
    commands: [
      {
        name: 'send',
        summary: 'send a recipe to the board',
        load: () => import('./commands/send.js'),
      },
      {
        name: 'recipes',
        summary: 'list the recipes on the board',
        load: () => import('./commands/recipes.js'),
      },
      {
        name: 'save',
        summary: 'save a recipe from the board to a file',
        load: () => import('./commands/save.js'),
      },
      {
        name: 'remove',
        summary: 'remove a recipe from the board',
        load: () => import('./commands/remove.js'),
      },
    ],
  },
  {
    heading: 'Records:',
    commands: [
      {
        name: 'collect',
        summary: "save the board's log in the archive",
        load: () => import('./commands/collect.js'),
      },
      {
        name: 'nights',
        summary: 'read the archive, night by night',
        load: () => import('./commands/nights.js'),
      },
      {
        name: 'again',
        summary: 'make a recipe of a print as it was really given',
        load: () => import('./commands/again.js'),
      },
      {
        name: 'compare',
        summary: 'say what changed between two prints in stops, and show them side by side',
        load: () => import('./commands/compare.js'),
      },
      {
        name: 'remark',
        summary: 'a rating or a remark on a print, once it is dry',
        load: () => import('./commands/remark.js'),
      },
    ],
  },
];
