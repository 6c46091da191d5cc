import { deepestStack } from './stack.mjs';
import { findSymbolProblems } from './symbols.mjs';
import { run } from './tools.mjs';

/** Symbols that would mean a heap. */
const heapNames = /^_?(?:malloc|calloc|realloc|free|sbrk)(?:_r)?$/;

/** Sizes of sections by name, from objdump's table. */
function readSections(chip, elf) {
  const sections = new Map();
  for (const line of run(chip.tool('objdump'), ['-h', elf]).split('\n')) {
    const found = /^\s+\d+\s+(\.\S+)\s+([0-9a-f]{8})\s+([0-9a-f]{8})/.exec(line);
    if (found) sections.set(found[1], Number.parseInt(found[2], 16));
  }
  return sections;
}

/** What code and data take, the stack's worst case, and whatever breaks a rule. */
export function measure(chip, elf, objects) {
  const sections = readSections(chip, elf);
  const size = (...names) => names.reduce((sum, name) => sum + (sections.get(name) ?? 0), 0);
  const stack = deepestStack(chip, elf, objects);
  const report = {
    flashBytes: size('.boot', '.text', '.data'),
    ramBytes: size('.stack', '.data', '.bss'),
    ramCodeAndDataBytes: size('.data'),
    stackReservedBytes: size('.stack'),
    stackDeepestBytes: stack.bytes,
    stackDeepestPath: stack.path,
  };
  return {
    ...report,
    problems: [...findProblems(chip, report, stack, elf), ...findSymbolProblems(chip, objects)],
  };
}

function findProblems(chip, report, stack, elf) {
  const problems = [];
  if (report.flashBytes > chip.flashLimitBytes)
    problems.push(
      `The image takes ${report.flashBytes} bytes of flash; ${chip.flashLimitBytes} are allowed.`,
    );
  if (report.ramBytes > chip.ramLimitBytes)
    problems.push(`The image takes ${report.ramBytes} bytes of RAM; ${chip.ramLimitBytes} are allowed.`);
  if (report.stackDeepestBytes > report.stackReservedBytes)
    problems.push(
      `The stack can be ${report.stackDeepestBytes} bytes deep; ${report.stackReservedBytes} are reserved.`,
    );
  if (!chip.flashWaits) problems.push(...findReachesIntoFlash(chip, report, stack));
  for (const line of run(chip.tool('nm'), [elf]).split('\n')) {
    const name = line.slice(11);
    if (heapNames.test(name)) problems.push(`The image links ${name}; there is no heap.`);
  }
  return problems;
}

/** Where nothing can be read from a flash that is busy. */
function findReachesIntoFlash(chip, report, stack) {
  const problems = [];
  for (const { from, to } of stack.calls)
    if (chip.isRam(from.address) && !chip.isRam(to.address))
      problems.push(`${from.name} runs from RAM but calls ${to.name} in the flash.`);
  for (const { name, address, constants } of stack.functions)
    if (chip.isRam(address) && constants.some((word) => isInImage(word, chip, report)))
      problems.push(`${name} runs from RAM but needs a constant in the flash.`);
  return problems;
}

/** The very beginning of the flash stands for the flash as a device. */
function isInImage(address, chip, { flashBytes }) {
  return address > chip.flashBase && address < chip.flashBase + flashBytes;
}

function line(label, bytes, limit, before) {
  const change =
    before === undefined ? '' : `${bytes === before ? 'as' : signed(bytes - before)} against the last build`;
  return `  ${label.padEnd(14)}${String(bytes).padStart(7)} of ${String(limit).padStart(7)} bytes  ${change}`;
}

const signed = (difference) => (difference > 0 ? `+${difference}` : `${difference}`);

/** Prints a report for people, beside the last one's figures. */
export function printReport(chip, report, last) {
  console.log('Board image:');
  console.log(line('flash', report.flashBytes, chip.flashLimitBytes, last?.flashBytes));
  console.log(line('RAM', report.ramBytes, chip.ramLimitBytes, last?.ramBytes));
  console.log(
    line('deepest stack', report.stackDeepestBytes, report.stackReservedBytes, last?.stackDeepestBytes),
  );
  console.log(`  by way of ${report.stackDeepestPath.join(' > ')}`);
}
