/** A guard, how it is taken out of its source, and the check that must notice. */
export interface Mutant {
  readonly guard: string;
  readonly file: string;
  readonly from: string;
  readonly to: string;
  readonly check: Check;
  /** What the check must complain of. */
  readonly noticed: RegExp;
}

/** The worlds of `npm run soak`, the exploration of the core, the bits turned over in lines, or one file of tests. */
export type Check = 'worlds' | 'states' | 'lines' | 'tests';

/** What the worlds meet too seldom is a test's to notice; `file` is a source of the host. */
export interface TestedMutant extends Mutant {
  readonly check: 'tests';
  readonly test: string;
}

export const coreMutants: readonly Mutant[] = [
  {
    guard: 'a line with a wrong checksum is not carried out',
    file: 'firmware/core/protocol/framer.ts',
    from: 'if (crc32(CRC32_EMPTY, lineIn, body) != lineInCrc) return Framed.BadCrc;',
    to: '',
    check: 'lines',
    noticed: /the core took/,
  },
  {
    guard: 'nothing that a line does lights the lamp',
    file: 'firmware/core/index.ts',
    from: 'if (receiveByte(byte, nowUs)) hasHappened = true;',
    to: 'if (receiveByte(byte, nowUs)) {\n    onGesture(1, nowUs); // a press\n    onGesture(3, nowUs); // held\n  }',
    check: 'states',
    noticed: /the lamp came on by a line/,
  },
  {
    guard: 'the lamp waits while the flash is written',
    file: 'firmware/core/evening/exposing.ts',
    from: 'if (light.lit != Lit.No || flashIsBusy()) return;',
    to: 'if (light.lit != Lit.No) return;',
    check: 'states',
    noticed: /while the flash was written/,
  },
  {
    guard: 'the lamp waits until its entry is in the log',
    file: 'firmware/core/evening/exposing.ts',
    from: 'situation.startWanted && begun == Begun.Safe',
    to: 'situation.startWanted',
    check: 'states',
    noticed: /its entry is not in the log/,
  },
  {
    guard: 'holding backs out of a pause',
    file: 'firmware/core/evening/foot.ts',
    from: '    case RunState.Paused:\n    case RunState.BetweenDodges:\n    case RunState.StepReady:\n    case RunState.Timing:\n      backOut',
    to: '    case RunState.StepReady:\n    case RunState.Timing:\n      backOut',
    check: 'states',
    noticed: /does not lead to rest|\(back\|/,
  },
  {
    guard: 'holding backs out of a bath',
    file: 'firmware/core/evening/foot.ts',
    from: '    case RunState.Timing:\n      backOut(nowUs);',
    to: '      backOut(nowUs);',
    check: 'states',
    noticed: /does not lead to rest|\(back\|/,
  },
  {
    guard: 'a pass of many pulses that was left lights no more of them',
    file: 'firmware/core/evening/enter.ts',
    from: '  stopTimer(Timer.Pulse);\n  situation.pulseDue = false;\n',
    to: '',
    check: 'states',
    noticed: /nobody touched the pedal|the lamp is on in state/,
  },
  {
    guard: 'a hold that began elsewhere than at rest lights nothing',
    file: 'firmware/core/evening/foot.ts',
    from: 'situation.press == Press.Fresh && situation.pressedIn == RunState.Rest',
    to: 'situation.press == Press.Fresh',
    check: 'states',
    noticed: /\(back\|end\|rest\)/,
  },
  {
    guard: 'the panel promises what the next press does',
    file: 'firmware/core/panel/prompt.ts',
    from: "return ascii('Stopped down? Hold');",
    to: "return ascii('Tap strip');",
    check: 'states',
    noticed: /the panel said 'Tap strip'/,
  },
  {
    guard: 'every pulse of a pass is added to its account',
    file: 'firmware/core/plan/giving.ts',
    from: '  given.onUs += onUs;',
    to: '  given.onUs = onUs;',
    check: 'states',
    noticed: /the lamp was on for .* the log has/,
  },
  {
    guard: 'an entry that is not ended yet is not told',
    file: 'firmware/core/storage/ring.ts',
    from: 'return openSeq != 0 ? min(openSeq, end) : end;',
    to: 'return end;',
    check: 'worlds',
    noticed: /the log has 0 ms, the lamp gave/,
  },
  {
    guard: 'what a pause leaves is given afterwards, no more and no less',
    file: 'firmware/core/plan/pulses.ts',
    from: 'piece.restUs = <u32>leftUs;',
    to: 'piece.restUs = <u32>leftUs / 2;',
    check: 'worlds',
    noticed: /ms planned/,
  },
];

export const hostMutants: readonly Mutant[] = [
  {
    guard: 'the laptop checks the checksum of what it hears',
    file: 'shared-protocol/codec.js',
    from: "return refuse('bad-crc'",
    to: "if (false) return refuse('bad-crc'",
    check: 'worlds',
    noticed: /is archived as/,
  },
  {
    guard: 'a missing line of the log is asked for again',
    file: 'host/board/link/log-collection.js',
    from: 'let missed = 1;',
    to: 'let missed = TIMES_MISSED;',
    check: 'worlds',
    noticed: /is lost/,
  },
  {
    guard: 'the board is told to forget only what is on the disk',
    file: 'host/records/archive/collect-log.js',
    from: '        const added = await this.#keepRecords(records);\n        this.#noteKept(records);',
    to: '        let added = 0;\n        try { added = await this.#keepRecords(records); this.#noteKept(records); } catch { }',
    check: 'worlds',
    noticed: /is lost/,
  },
];

export const testedMutants: readonly TestedMutant[] = [
  {
    guard: 'rounds of the uptime that left no trace are found between two marks',
    file: 'host/records/archive/dating.ts',
    from: 'if (rounds > 0 && unexplainedMs',
    to: 'if (rounds > 1e9 && unexplainedMs',
    check: 'tests',
    test: 'tests/host/records/dating.test.ts',
    noticed: /FAIL.*a round that nothing was logged in/,
  },
  {
    guard: 'an archive is looked over before it is written to',
    file: 'host/records/archive/connection.ts',
    from: 'if (!isNew) lookOver(database, file);',
    to: '',
    check: 'tests',
    test: 'tests/host/records/damaged-archive.test.ts',
    noticed: /FAIL.*in the order of its keys/,
  },
  {
    guard: 'a commit that fails is no success',
    file: 'host/records/archive/transaction.ts',
    from: "database.exec('COMMIT');",
    to: "try {\n      database.exec('COMMIT');\n    } catch {}",
    check: 'tests',
    test: 'tests/host/records/transaction.test.ts',
    noticed: /FAIL.*whose commit fails/,
  },
];
