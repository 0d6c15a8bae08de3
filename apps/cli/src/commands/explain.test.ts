import { describe, expect, it } from 'vitest';
import { passingLoopPaths } from '../testing/example-paths.js';
import { runRecorded } from '../testing/run-recorded.js';

const LOOP = ['--example', 'passing-loop'] as const;

describe('blockbell explain', () => {
  it('says what is believed of a train, how that is known and how it came about', async () => {
    const { exit, out } = await runRecorded('explain', ...LOOP, '--train', '3', '--at', '200000');
    expect(exit).toBe(0);
    const [now, evidence, why, heading, ...changes] = out.split('\n');
    expect(now).toMatch(
      /^At \d\d:\d\d:\d\d \(3 min 20 s after the session began\): 3 (stands|runs) at /,
    );
    expect(evidence).toMatch(/^ {2}\S.*\.$/);
    expect(why).toMatch(/^Why it waits: 3 waits: /);
    expect(heading).toBe('How it came about:');
    expect(changes[0]).toMatch(/expected\)\. Stored here when the last session ended\.$/);
    expect(changes.length).toBeGreaterThan(2);
    expect(changes.at(-1)).toContain(evidence!.trim());
  });

  it('says why a train waits, to the root, as JSON too', async () => {
    const asked = [...LOOP, '--train', '3', '--at', '20000'] as const;
    const { out } = await runRecorded('explain', ...asked);
    expect(out).toMatch(/\nWhy it waits: 3 waits: it is booked to leave at \d\d:\d\d\.\n/);
    const { out: json } = await runRecorded('explain', ...asked, '--json');
    const [told] = JSON.parse(json) as [{ wait: unknown }];
    expect(told.wait).toMatchObject({
      text: expect.stringMatching(/^3 waits: /),
      links: [{ by: -1, reason: { kind: 'booked' } }],
      root: { kind: 'timetable' },
      circle: [],
    });
  });

  it('says it of a block and of a section, as JSON too', async () => {
    const named = ['--block', 'P1', '--section', 'P1.2'] as const;
    const { out } = await runRecorded('explain', ...LOOP, ...named, '--json');
    const [block, section] = JSON.parse(out) as {
      now: { belief: string; evidence: string[] };
      changes: { explanation: { belief: string } }[];
    }[];
    expect(block!.now.belief).toMatch(/^P1 /);
    expect(block!.changes.map(({ explanation }) => explanation.belief)).toEqual(
      expect.arrayContaining([
        'P1 is unknown and counts as occupied.',
        'P1 is clear.',
        expect.stringMatching(/^P1 is occupied by /),
      ]),
    );
    expect(section!.changes.map(({ explanation }) => explanation.belief)).toContain(
      'Section P1.2 is clear.',
    );
  });

  it('takes a journal, and tells of all trains when nothing is named', async () => {
    const { folder } = passingLoopPaths();
    const path = `${folder}/session.jsonl`;
    await runRecorded('rehearse', ...LOOP, '--quiet', '--journal', path);
    const { exit, out } = await runRecorded('explain', path, '--at', '60000');
    expect(exit).toBe(0);
    expect(out.split('\n\n')).toHaveLength(2);
  });

  it.each([
    ['train', 'no-such'],
    ['block', 'no-such'],
    ['section', 'no-such'],
  ])('refuses a %s that is not there', async (kind, name) => {
    const { exit, err } = await runRecorded('explain', ...LOOP, `--${kind}`, name);
    expect(exit).toBe(2);
    expect(err).toContain(`there is no ${kind} no-such in this session`);
  });
});
