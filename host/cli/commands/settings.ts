import { Argument, type Command } from 'commander';
import { type SettingName, settingRange, settings } from '../../../shared-protocol/schema.js';
import type { Board } from '../../board/link/board.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, jsonOption, portOption, traceOption } from '../options.js';
import { print, printJson } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { UsageError } from '../usage-error.js';

interface SettingsOptions extends BoardOptions {
  readonly json?: true;
}

const names = Object.keys(settings) as SettingName[];

export function define(command: Command): void {
  command.addHelpText(
    'after',
    examples(
      'treadle settings show',
      'treadle settings set lamp-lag-ms 120',
      'treadle settings set lens-check 0',
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
    .addArgument(new Argument('<name>', 'the setting').choices(names))
    .argument('<value>', 'a whole number in its range')
    .addOption(portOption())
    .addOption(traceOption())
    .addHelpText('after', examples('treadle settings set focus-limit-s 120'))
    .action(set);
}

async function show(board: Board, options: SettingsOptions): Promise<void> {
  const values = await board.allSettings();
  if (options.json) printJson(names.map((name) => jsonOf(name, values[name])));
  else print(settingTable(names, values));
}

async function set(name: SettingName, text: string, options: BoardOptions): Promise<void> {
  if (!/^[+-]?\d{1,10}$/.test(text))
    throw new UsageError(`${name}: '${text}' is not a whole number; ${rangeOf(name)}`);
  const value = await withBoard(options, (board) => board.setSetting(name, Number(text)));
  print(settingTable([name], { [name]: value }));
}

function jsonOf(name: SettingName, value: number): object {
  const { number: _number, ...said } = settings[name];
  return { name, value, ...said };
}

function settingTable(shown: readonly SettingName[], values: Partial<Record<SettingName, number>>): string {
  return table(
    [{ head: 'setting' }, { head: 'value', align: 'right' }, { head: 'range' }, { head: 'what it does' }],
    shown.map((name) => [name, withUnit(values[name]!, name), rangeOf(name), settings[name].meaning]),
  );
}

function rangeOf(name: SettingName): string {
  const { min, max } = settings[name];
  const { unit } = settings[name];
  return min === 0 && max === 1 ? '0 off, 1 on' : `${settingRange(name)}${unit && ` ${unit}`}`;
}

function withUnit(value: number, name: SettingName): string {
  const { unit } = settings[name];
  return unit === '' ? `${value}` : `${value} ${unit}`;
}
