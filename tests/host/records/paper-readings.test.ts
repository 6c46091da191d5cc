import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { paperProfileOf, papersOn } from '../../../host/daylight/papers/measured-paper.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { takeBackToFormat } from './older-archive.js';

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-papers-'));
  file = join(folder, 'archive.db');
});
afterEach(() => rmSync(folder, { recursive: true }));

const strip = (speedMs: number) => ({
  kind: 'strip',
  filter: '2',
  device: 'flatbed',
  light: 'one',
  scan: 'strip.tif',
  patches: [0, 0.05, 0.2, 0.6, 1.1, 1.6, 1.9, 2, 2.01].map((density, at) => ({
    doseMs: speedMs * 2 ** ((at - 3) / 2),
    density,
    noise: 0.001,
  })),
});

describe('the archive', () => {
  it('keeps what was read of papers, by paper and developer, and gives the profile of the one read last', async () => {
    await using archive = await openArchive(file);
    await archive.addPaperReading({ paper: 'Pearl', developer: 'print 1:9', body: strip(8000) });
    await archive.addPaperReading({ paper: 'Pearl', developer: 'warm 1:4', body: strip(9000) });
    await archive.addPaperReading({ paper: 'Pearl', developer: 'print 1:9', body: strip(8100) });
    await using reader = await readArchive(file);
    expect(await papersOn(reader)).toMatchObject([
      { paper: 'Pearl', developer: 'warm 1:4', versions: 1 },
      { paper: 'Pearl', developer: 'print 1:9', versions: 2 },
    ]);
    const pearl = await paperProfileOf(reader, 'Pearl');
    expect(pearl).toMatchObject({ developer: 'print 1:9', versions: 2, profile: { version: 2 } });
    expect([...pearl!.measuredRanges]).toEqual(['2']);
    expect(pearl!.figures.filters['2']!.rangeR).toBeCloseTo(pearl!.profile.filters[0]!.rangeR!.value, 6);
    // Not measured: common practice.
    expect(pearl!.figures.filters['5']!.rangeR).toBe(50);
    expect(await paperProfileOf(reader, 'Pearl', 'warm 1:4')).toMatchObject({ versions: 1 });
    expect(await paperProfileOf(reader, 'Matt')).toBeUndefined();
  });

  it('of the format before holds no readings, and takes them once it was written to', async () => {
    {
      await using archive = await openArchive(file);
      await archive.nameBoard('b', 'left');
    }
    takeBackToFormat(file, 8);
    {
      await using reader = await readArchive(file);
      expect(await reader.paperReadings()).toEqual([]);
    }
    await using archive = await openArchive(file);
    await archive.addPaperReading({ paper: 'Pearl', developer: '', body: strip(8000) });
    expect(await archive.paperReadings('Pearl')).toHaveLength(1);
    expect(await archive.boardNames()).toEqual(new Map([['b', 'left']]));
  });
});
