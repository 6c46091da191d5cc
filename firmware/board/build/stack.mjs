import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { run } from './tools.mjs';

/** WASM_RT_MAX_CALL_STACK_DEPTH of runtime/wasm-rt.h: a core's function that calls itself is stopped there. */
const deepestCalls = 40;

/** The interrupts by priority (glue/main.c): one of each level can be on the stack at once, on top of the main program. */
const handlersByPriority = [
  ['lamp_off_interrupt', 'lamp_limit_interrupt'],
  ['contacts_interrupt'],
  ['uart_line_interrupt'],
  ['deadline_interrupt', 'sleep_tick_interrupt', 'display_interrupt', 'usb_line_interrupt'],
];

/** Frames that the compiler wrote down (-fstack-usage), by function. */
function readFrames(folder) {
  const frames = new Map();
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.su'))) {
    for (const line of readFileSync(join(folder, file), 'utf8').split('\n')) {
      const [place, bytes] = line.split('\t');
      if (bytes !== undefined) frames.set(place.slice(place.lastIndexOf(':') + 1), Number(bytes));
    }
  }
  return frames;
}

/** What a function of the compiler's own library pushes, read from its instructions. */
function frameOf(instructions) {
  let bytes = 0;
  for (const text of instructions) {
    const pushed = /^push\s+\{(.*)\}/.exec(text);
    if (pushed) bytes += 4 * pushed[1].split(',').length;
    const reserved = /^sub\s+sp, #(\d+)/.exec(text);
    if (reserved) bytes += Number(reserved[1]);
  }
  return bytes;
}

/** Every function of the image with its address, frame and calls, from the disassembly. */
function readFunctions(chip, elf, folder) {
  const frames = readFrames(folder);
  const functions = new Map();
  let current;
  for (const line of run(chip.tool('objdump'), ['-d', '--no-show-raw-insn', elf]).split('\n')) {
    const head = /^([0-9a-f]{8}) <(.+)>:$/.exec(line);
    if (head) {
      current = {
        name: head[2],
        address: Number.parseInt(head[1], 16),
        instructions: [],
        targets: new Set(),
        constants: [],
      };
      functions.set(current.name, current);
      continue;
    }
    const text = /^\s*[0-9a-f]+:\s+(.*)$/.exec(line)?.[1]?.replaceAll('\t', ' ');
    if (text === undefined || current === undefined) continue;
    current.instructions.push(text);
    const constant = /^\.word 0x([0-9a-f]{8})$/.exec(text)?.[1];
    if (constant !== undefined) current.constants.push(Number.parseInt(constant, 16));
    const target = /^(?:bl|blx|b|b\.n|b\.w)\s+[0-9a-f]+ <([^>+]+)>/.exec(text)?.[1];
    if (target === current.name && /^bl/.test(text)) current.callsItself = true;
    else if (target !== undefined && target !== current.name) current.targets.add(target);
  }
  for (const one of functions.values()) {
    one.frameBytes = frames.get(plainName(one.name)) ?? frameOf(one.instructions);
    if (one.callsItself) one.frameBytes *= deepestCalls;
    followVeneer(one, functions);
  }
  return functions;
}

/** The compiler's clones (`name.constprop.0`, `name.part.0`) have the frame of their own line or of the original. */
const plainName = (name) => name.replace(/\.(?:constprop|isra|part|cold)\.\d+.*$/, '');

/** A linker's veneer to a far function jumps by a loaded address, which the disassembly does not name. */
function followVeneer(one, functions) {
  const far = /^__(.+)_veneer$/.exec(one.name)?.[1];
  if (far !== undefined && functions.has(far)) one.targets.add(far);
}

function deepestFrom(name, functions, known, open) {
  const done = known.get(name);
  if (done) return done;
  const one = functions.get(name);
  if (!one && open.size === 0) throw new Error(`${name} is not in the image, so its stack cannot be counted`);
  if (!one) return { bytes: 0, path: [] };
  if (open.has(name))
    throw new Error(`${name} calls itself, so the stack has no bound that can be computed.`);
  open.add(name);
  let deepest = { bytes: 0, path: [] };
  for (const target of one.targets) {
    const below = deepestFrom(target, functions, known, open);
    if (below.bytes > deepest.bytes) deepest = below;
  }
  open.delete(name);
  const result = { bytes: one.frameBytes + deepest.bytes, path: [name, ...deepest.path] };
  known.set(name, result);
  return result;
}

/** The worst case: the deepest path of the main program with the deepest handler of each priority on top. */
export function deepestStack(chip, elf, folder) {
  const functions = readFunctions(chip, elf, folder);
  const known = new Map();
  const deepest = (name) => deepestFrom(name, functions, known, new Set());
  const main = deepest(chip.mainProgram);
  const byPriority = [...handlersByPriority];
  byPriority.push([...byPriority.pop(), ...(chip.ownHandlers ?? [])]);
  const handlers = byPriority.map(
    (names) => Math.max(...names.map((name) => deepest(name).bytes)) + chip.exceptionFrameBytes,
  );
  const bytes = handlers.reduce((sum, more) => sum + more, main.bytes);
  const calls = [...functions.values()].flatMap((from) =>
    [...from.targets]
      .filter((name) => functions.has(name))
      .map((name) => ({ from, to: functions.get(name) })),
  );
  return { bytes, path: main.path, calls, functions: [...functions.values()] };
}
