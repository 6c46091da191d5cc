import { Argument, type Command } from 'commander';
import { type SettingName, settings } from '../../../shared-protocol/schema.js';
import { readBoardName } from '../../board/board-name.js';
import type { Board } from '../../board/link/board.js';
import { formatSetting, readSetting, settingBounds } from '../../recipe/text/setting-text.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, jsonOption, portOption, traceOption } from '../options.js';
import { readOption } from '../read-options.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { UsageError } from '../usage-error.js';

interface SettingsOptions extends BoardOptions {
  readonly json?: true;
}

const names = Object.keys(settings) as SettingName[];

export function define(command: Command): void {
  command.helpCommand('help [command]', 'print the help of a command');
  command.addHelpText(
    'after',
    examples(
      'treadle settings show',
      'treadle settings set lamp-lag-ms 120ms',
      'treadle settings set lens-check off',
      'treadle settings set sheet-cm2 8x10in',
      'treadle settings name garage',
    ),
  );
  command
    .command('show', { isDefault: true })
    .description('show every setting: its value, its range and what it does')
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle settings show'))
    .action((options: SettingsOptions) => withBoard(options, (board) => show(board, options)));
  command
    .command('set')
    .description('change a setting; the board keeps it without power')
    .addArgument(new Argument('<name>', 'the setting').choices(names).argParser(settingNamed))
    .argument('<value>', 'what it is to be, with its unit or without: 120ms, 60%, 3min, on, 8x10in')
    .addOption(portOption())
    .addOption(traceOption())
    .addHelpText('after', examples('treadle settings set focus-limit-s 2min'))
    .action(set);
  command
    .command('name')
    .description('give the board a name, by which it is told from others; the board keeps it without power')
    .argument('<name>', 'up to 16 characters; none takes it away')
    .addOption(portOption())
    .addOption(traceOption())
    .addHelpText('after', examples('treadle settings name garage', 'treadle settings name none'))
    .action(giveName);
}

function settingNamed(text: string): SettingName {
  const name = names.find((one) => one === text);
  if (name !== undefined) return name;
  throw new UsageError(`<name>: there is no setting '${text}'; there are ${names.join(', ')}`);
}

async function giveName(text: string, options: BoardOptions): Promise<void> {
  const wanted = readOption('<name>', text, readBoardName);
  const id = await withBoard(options, async (board) => {
    await board.setName(wanted);
    return board.id;
  });
  remark(cleanText(wanted === '' ? `Board ${id} has no name.` : `Board ${id} is called '${wanted}'.`));
}

async function show(board: Board, options: SettingsOptions): Promise<void> {
  const values = await board.allSettings();
  if (options.json) printJson(names.map((name) => jsonOf(name, values[name])));
  else print(settingTable(names, values));
}

async function set(name: SettingName, text: string, options: BoardOptions): Promise<void> {
  const wanted = readOption(name, text, (written) => readSetting(name, written));
  const value = await withBoard(options, (board) => board.setSetting(name, wanted));
  print(settingTable([name], { [name]: value }));
}

function jsonOf(name: SettingName, value: number): object {
  const { number: _number, ...said } = settings[name];
  return { name, value, ...said };
}

function settingTable(shown: readonly SettingName[], values: Partial<Record<SettingName, number>>): string {
  return table(
    [{ head: 'setting' }, { head: 'value', align: 'right' }, { head: 'range' }, { head: 'what it does' }],
    shown.map((name) => [
      name,
      formatSetting(name, values[name]!),
      settingBounds(name),
      settings[name].meaning,
    ]),
  );
}
