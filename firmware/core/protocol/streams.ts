/**
 * Answers of many lines: log records, the list of recipes, a whole recipe. They go out as the serial line has
 * room, one after another, so the core never waits and needs no buffer but the line it is writing.
 */
import { sendBytes } from '../board';
import { collected, ended, writeCollected, writeEnded } from '../generated/codec';
import { writeEntryLine } from '../log/entry-line';
import { endSeq, entrySeq } from '../storage/ring';
import { DocumentKind, nextDocument } from '../storage/shelf';
import { lineOut, lineOutLength } from './line-writer';
import { writeLineOfRecipe, writeListLine } from './recipe-lines';

export enum Stream {
  None,
  Collect,
  RecipeList,
  RecipeGet,
}

/** Two collections may be outstanding, so that the line never idles, and one other request. */
const STREAMS: i32 = 3;

@unmanaged
class Job {
  /** Where a collection goes on (a sequence number), or the document fetched or listed last. */
  at: u32;
  /** Lines still allowed, for a collection. */
  left: u32;
  sent: u32;
  id: u16;
  kind: u8;
}
const JOB_BYTES: i32 = 16;
const jobs: usize = memory.data(STREAMS * JOB_BYTES, 8);
let count: i32 = 0;

function jobAt(place: i32): Job {
  return changetype<Job>(jobs + place * JOB_BYTES);
}

export function forgetStreams(): void {
  count = 0;
}

/** True when the request with this id is being answered just now. */
export function isStreaming(id: i32): bool {
  for (let place = 0; place < count; place++) if (i32(jobAt(place).id) == id) return true;
  return false;
}

/** Adds a stream behind those under way; false when there are too many. */
export function startStream(kind: Stream, id: i32, at: u32, left: u32): bool {
  if (count == STREAMS) return false;
  const job = jobAt(count++);
  job.kind = u8(kind);
  job.id = u16(id);
  job.at = at;
  job.left = left;
  job.sent = 0;
  return true;
}

/** True while recipes are being read out, so that none may change under the reader. */
export function recipesAreStreaming(): bool {
  for (let place = 0; place < count; place++) if (jobAt(place).kind != Stream.Collect) return true;
  return false;
}

/** Sends lines until the serial line is full or nothing is left to say. */
export function pumpStreams(): void {
  while (count > 0 && sendNextLine(jobAt(0))) {}
}

/** False when the line had no room; then the same line is written anew later. */
function sendNextLine(job: Job): bool {
  const before = job.at;
  const more = writeNextLine(job);
  if (!sendBytes(lineOut, lineOutLength)) {
    job.at = before;
    return false;
  }
  job.sent++;
  if (!more) {
    memory.copy(jobs, jobs + JOB_BYTES, (count - 1) * JOB_BYTES);
    count--;
  }
  return true;
}

/** Writes the job's next line into the writer's buffer; false when it is the job's last. */
function writeNextLine(job: Job): bool {
  switch (i32(job.kind)) {
    case Stream.Collect:
      return writeCollectLine(job);
    case Stream.RecipeList:
      return writeRecipeListLine(job);
    default:
      if (writeLineOfRecipe(job.at, job.sent, job.id)) return true;
      writeEndedLine(job);
      return false;
  }
}

function writeCollectLine(job: Job): bool {
  if (job.left > job.sent && writeEntryLine(job.at, job.id) != 0) {
    job.at = entrySeq + 1;
    return true;
  }
  collected.nextSeq = job.at;
  collected.endSeq = endSeq();
  writeCollected(collected, job.id);
  return false;
}

function writeRecipeListLine(job: Job): bool {
  const document = nextDocument(DocumentKind.Recipe, i32(job.at));
  if (document >= 0) {
    job.at = u32(document);
    writeListLine(document, job.id);
    return true;
  }
  writeEndedLine(job);
  return false;
}

function writeEndedLine(job: Job): void {
  ended.count = u16(job.sent);
  writeEnded(ended, job.id);
}
