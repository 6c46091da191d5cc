import { z } from 'zod';
import { readBySchema } from '../../../recipe/reading/read-by-schema.js';
import type { Said } from '../../../records/again/sheet-remark.js';

const schema = z.strictObject({ rating: z.int().nullable(), words: z.string() });

/** What the page says of a sheet. @throws FileError */
export function readRemark(body: Uint8Array): Said {
  return readBySchema(body, schema);
}
