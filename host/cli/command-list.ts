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
 * Every command there is. Only the one that is asked for is loaded, with those that need the same, so that help and
 * mistakes answer at once, and the package has few files.
 */
export const commandGroups: readonly CommandGroup[] = [
  {
    heading: 'Planning, without a board:',
    commands: [
      {
        name: 'new',
        summary: 'make a recipe, a strip or baths by answering questions, or a recipe from old notes',
        load: async () => (await import('./asking-commands.js')).new,
      },
      {
        name: 'change',
        summary: 'change a recipe by answering questions, or one thing of it by --set',
        load: async () => (await import('./asking-commands.js')).change,
      },
      {
        name: 'strip',
        summary: 'plan a test strip: the exposure of each patch, and how to give it',
        load: async () => (await import('./planning-commands.js')).strip,
      },
      {
        name: 'check',
        summary: 'find every mistake in a recipe file',
        load: async () => (await import('./planning-commands.js')).check,
      },
      {
        name: 'timeline',
        summary: 'show how long the lamp will be on for a recipe, pass by pass',
        load: async () => (await import('./planning-commands.js')).timeline,
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
        load: async () => (await import('./planning-commands.js')).rescale,
      },
      {
        name: 'contrast',
        summary: 'find the grade or filter for a negative, from a test strip or a densitometer',
        load: async () => (await import('./planning-commands.js')).contrast,
      },
      {
        name: 'filter',
        summary: 'change the filter of a pass, and its exposure by the filter factor',
        load: async () => (await import('./planning-commands.js')).filter,
      },
      {
        name: 'split',
        summary: 'make a split-grade base, soft and hard, from two test strips',
        load: async () => (await import('./planning-commands.js')).split,
      },
      {
        name: 'dry-down',
        summary: 'measure how much darker a paper dries, and correct a recipe for it',
        load: async () => (await import('./record-commands.js')).dryDown,
      },
      {
        name: 'read',
        summary: 'read the scan of a test strip: its base, its range, and how sure both are',
        load: async () => (await import('./record-commands.js')).read,
      },
      {
        name: 'paper',
        summary: 'measure a paper by scanned strips: its range, speed and curve through each filter',
        load: async () => (await import('./record-commands.js')).paper,
      },
      {
        name: 'survey',
        summary: 'tell from the scan of a grey sheet how evenly the enlarger lights the easel',
        load: async () => (await import('./record-commands.js')).survey,
      },
      {
        name: 'map',
        summary: 'draw a printing map, one page to keep with the negative',
        load: () => import('./commands/map.js'),
      },
      {
        name: 'preview',
        summary: 'make a picture of what a recipe or a test strip would print',
        load: async () => (await import('./planning-commands.js')).preview,
      },
    ],
  },
  {
    heading: 'On a page:',
    commands: [
      {
        name: 'desk',
        summary: 'open the desk in your browser: plan prints, look back on nights, rehearse an evening',
        load: () => import('./commands/desk.js'),
      },
    ],
  },
  {
    heading: 'The board:',
    commands: [
      {
        name: 'sim',
        summary: 'run a simulated board in this terminal, with keys for pedal and knob',
        load: async () => (await import('./board-commands.js')).sim,
      },
      {
        name: 'evening',
        summary: 'play a whole evening on a simulated board, and show the prints',
        load: () => import('./commands/evening.js'),
      },
      {
        name: 'ports',
        summary: 'list the serial ports, and the board at each',
        load: async () => (await import('./board-commands.js')).ports,
      },
      {
        name: 'info',
        summary: 'show the board: its version, its paper, what is chosen, how full its log is',
        load: async () => (await import('./board-commands.js')).info,
      },
      {
        name: 'diagnose',
        summary: 'count the errors on the cable, and say what to do about each',
        load: async () => (await import('./board-commands.js')).diagnose,
      },
      {
        name: 'checkup',
        summary:
          'go through pedal, knob, display, tone, flash and relays at the bench, and say what to look at',
        load: async () => (await import('./board-commands.js')).checkup,
      },
      {
        name: 'settings',
        summary: 'show or change the settings of the board',
        load: async () => (await import('./board-commands.js')).settings,
      },
      {
        name: 'baths',
        summary: 'show or set the baths: their times, their limits, and when one was mixed fresh',
        load: async () => (await import('./board-commands.js')).baths,
      },
      {
        name: 'flash',
        summary: 'put new firmware on the board',
        load: async () => (await import('./board-commands.js')).flash,
      },
      {
        name: 'watch',
        summary: 'show what happens at the enlarger as it happens',
        load: async () => (await import('./board-commands.js')).watch,
      },
    ],
  },
  {
    heading: 'Recipes on the board:',
    commands: [
      {
        name: 'send',
        summary: 'send a recipe to the board',
        load: async () => (await import('./record-commands.js')).send,
      },
      {
        name: 'recipes',
        summary: 'list the recipes on the board',
        load: async () => (await import('./record-commands.js')).recipes,
      },
      {
        name: 'save',
        summary: 'save a recipe from the board to a file',
        load: async () => (await import('./record-commands.js')).save,
      },
      {
        name: 'remove',
        summary: 'remove a recipe from the board',
        load: async () => (await import('./board-commands.js')).remove,
      },
    ],
  },
  {
    heading: 'Records:',
    commands: [
      {
        name: 'collect',
        summary: "save the board's log in the archive",
        load: async () => (await import('./record-commands.js')).collect,
      },
      {
        name: 'nights',
        summary: 'read the archive, night by night',
        load: () => import('./commands/nights.js'),
      },
      {
        name: 'again',
        summary: 'make a recipe of a print as it was really given',
        load: async () => (await import('./record-commands.js')).again,
      },
      {
        name: 'compare',
        summary: 'say what changed between two prints in stops, and show them side by side',
        load: async () => (await import('./record-commands.js')).compare,
      },
      {
        name: 'remark',
        summary: 'a rating or a remark on a print, once it is dry',
        load: async () => (await import('./record-commands.js')).remark,
      },
    ],
  },
];
