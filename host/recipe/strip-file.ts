/** A test strip in a file: the same figures as a person types them, to be used again. */
import { z } from 'zod';
import type { MessageOf } from '../../shared-protocol/index.js';
import { limits } from '../../shared-protocol/limits.js';
import { cover } from '../../shared-protocol/schema.js';
import type { StripRequest } from './planner/index.js';
import { readBySchema } from './reading/read-by-schema.js';
import { filterName } from './recipe-file.js';
import { formatStops, readStops, stopPattern } from './text/stop-text.js';
import {
  exposurePattern,
  formatTime,
  isTime,
  readExposure,
  readTime,
  timePattern,
} from './text/time-text.js';
import { written } from './text/written.js';

export const stripFile = z
  .strictObject({
    $schema: z.string().optional().describe('Where this schema lies, for editors.'),
    notes: z.string().max(4000).default(''),
    first: written(readExposure, formatTime, {
      description: 'What the lightest patch gets.',
      pattern: exposurePattern,
      examples: ['5s'],
    }),
    step: written<StripRequest['step']>(
      (text) => (isTime(text) ? { equalMs: readTime(text) } : { stops120: readStops(text) }),
      (step) => ('equalMs' in step ? formatTime(step.equalMs) : formatStops(step.stops120)),
      {
        description: 'From patch to patch: in stops, or as a time that each patch gets more.',
        pattern: `${stopPattern}|${timePattern}`,
        examples: ['1/2', '1', '5s'],
      },
    ),
    patches: z.int().min(2).max(limits.stripPatches),
    cover: cover
      .default('cumulative')
      .describe('Cumulative: all patches first, then ever fewer. Separate: each patch alone.'),
    filter: filterName.default(''),
  })
  .describe('A test strip.');

/** The file as people write it, and as it is read. */
export type WrittenStrip = z.input<typeof stripFile>;
export type ReadStrip = z.output<typeof stripFile>;

/**
 * Reads a strip file: UTF-8 JSON by the published schema.
 * @throws FileError with all problems at once, each with its path in the file and its line and column.
 */
export function readStripFile(bytes: Uint8Array | string): ReadStrip {
  return readBySchema(bytes, stripFile);
}

/** The strip of a file, without what stays on the laptop. @throws as `readStripFile` */
export function readStrip(bytes: Uint8Array | string): StripRequest {
  return stripRequest(readStripFile(bytes));
}

/** What stands in the file of a strip, without what says nothing. */
export function fileFromStrip(strip: ReadStrip): WrittenStrip {
  const { notes, filter, ...file } = stripFile.encode(strip);
  return { ...file, ...(filter && { filter }), ...(notes && { notes }) };
}

/** What is to be planned, or sent, of it. */
export function stripRequest({ first, step, patches, cover, filter }: ReadStrip): StripRequest {
  return { firstMs: first, step, patches, cover, ...(filter === '' ? {} : { filter }) };
}

/** A strip as a board takes it: whole milliseconds and 1/120 stop, the step in one of them and 0 in the other. */
export type StripSettings = Omit<MessageOf<'strip-set'>, 'type' | 'id'>;

/** The strip as a board takes it. */
export function stripSettings({ firstMs, step, patches, cover, filter = '' }: StripRequest): StripSettings {
  return {
    firstMs,
    stepStops120: 'stops120' in step ? step.stops120 : 0,
    stepMs: 'equalMs' in step ? step.equalMs : 0,
    patches,
    cover,
    filter,
  };
}
