/**
 * The effects: everything that the core can ask of the board it runs on. This file is the whole list; the
 * board layer in C, the simulated board and the tests each supply these functions and no others.
 *
 * None of them calls back into the core: what comes of an effect arrives later as an event (see index.ts).
 * Times are microseconds since power-up.
 */

/** Lamp on now; the board's alarm interrupt switches it off after `onUs`. Answered by `lampEnded`. */
export declare function exposeUs(onUs: u32): void;

/** Lamp on now for composing and focusing, for `limitUs` at the most. Answered by `lampEnded`. */
export declare function focusUs(limitUs: u32): void;

/** Lamp off at once; a lamp that was on is answered by `lampEnded`. Harmless when it is off. */
export declare function lampOff(): void;

/** Switches the safelight's relay; the board starts with the safelight on. */
export declare function safelight(on: bool): void;

/**
 * Gives the chip over to its boot program, which makes it a drive for new firmware; the board comes back by a start. Lamp
 * off and everything stored before. The board refuses it while bytes of the line are handled.
 */
export declare function makeWay(): void;

/** Asks for `deadline` at `atUs`; a later call replaces an earlier one, and i64.MAX_VALUE asks for none. */
export declare function wakeAtUs(atUs: i64): void;

/** Shows `length` (at most 20) characters at `text`, printable ASCII or 0xFF for all dots, on display row 0..3, the rest blank. */
export declare function showLine(row: i32, text: usize, length: i32): void;

/** The display's light, 0 (dark) to 100 per cent. */
export declare function displayLight(percent: i32): void;

/** Sounds `hz` until told otherwise, at 0 to 100 per cent; 0 Hz is silence. */
export declare function tone(hz: i32, volumePercent: i32): void;

/** Queues `length` bytes for the serial line, all or none; after a refusal `writable` tells of new room. */
export declare function sendBytes(from: usize, length: i32): bool;

/** Copies `length` stored bytes at `offset` of the storage region to `into`. Erased bytes read as 0xFF. */
export declare function flashRead(offset: u32, into: usize, length: i32): void;

/**
 * Programs `length` bytes inside one 256-byte page; bits can only be cleared. Answered by `flashDone`; one
 * operation at a time. The board refuses (ok = 0) while the lamp is on.
 */
export declare function flashProgram(offset: u32, from: usize, length: i32): void;

/** Erases the 4096-byte sector at `offset` to 0xFF. Answered by `flashDone`, refused while the lamp is on. */
export declare function flashErase(offset: u32): void;

/** Writes the board's own 8-byte identity to `into`. */
export declare function boardId(into: usize): void;

/** A sticky counter of the board's serial hardware, by the number of its `LinkFault`, since power-up. */
export declare function linkFaults(which: i32): u32;
