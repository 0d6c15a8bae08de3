import type { World } from '@blockbell/railway';
import { SAMPLE_EVERY, type SessionResult } from '../session/session-result.js';
import { stagingYards } from '../session/yard-filling.js';
import type { YardLine } from './report.js';
import { spreadOf } from './statistics.js';

/** How full each staging yard is over the session. */
export function yardLines(
  { layout, timetable }: World,
  results: readonly SessionResult[],
): YardLine[] {
  return stagingYards(layout).map(({ file, tracks }, yard) => {
    const longest = Math.max(0, ...results.map(({ yards }) => yards[yard]?.length ?? 0));
    const samples = Array.from({ length: longest }, (_, sample) => ({
      fast: timetable.start + sample * SAMPLE_EVERY,
      ...spreadOf(results.flatMap(({ yards }) => yards[yard]?.[sample] ?? [])),
    }));
    return {
      station: file.id,
      name: file.name,
      tracks: tracks.length,
      slots: tracks.reduce((sum, { blocks }) => sum + blocks.length, 0),
      samples,
    };
  });
}
