import { describe, expect, it } from 'vitest';
import { edited, elementOf } from '../testing/edit.js';
import { SessionDriver } from '../testing/session-driver.js';
import {
  crossing,
  dividedLoop,
  line,
  runningCrossing,
  runningLine,
} from '../testing/session-settings.js';
import { locomotive, stockOf, train, twoTrains } from '../testing/stock-parts.js';
import { timetableOf } from '../testing/timetable-parts.js';

/** Both trains are on their way over the turnouts of the loop, which are proven, then. */
const UNDER_WAY = 54_000;

function underWay(layout = dividedLoop()): SessionDriver {
  const driver = runningCrossing(layout);
  driver.runTo(UNDER_WAY);
  expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
  expect(driver.speedOf(3)).toBeGreaterThan(0);
  return driver;
}

const startAgain = (driver: SessionDriver): void => {
  driver.feed({ at: driver.now, kind: 'started-again' });
};

/** The same, and the line-up after it as far as detection goes. */
function linedUpAgain(...occupied: readonly string[]): SessionDriver {
  const driver = underWay();
  startAgain(driver);
  driver.wait(1000);
  driver.lineUp(...occupied);
  return driver;
}

const NEXT_TO = { P: 'A>b', Q: 'B>b' };

const bothAnswer = () =>
  stockOf([locomotive('L1', 3), locomotive('L2', 4)], [], [train('P', 'L1'), train('Q', 'L2')]);

const confirm = (driver: SessionDriver, train: string): string | null =>
  driver.command({
    kind: 'confirm-place',
    train: driver.trainIndex(train),
    heading: driver.train(train).path.at(-1)!.heading,
  });

describe('a session whose program was started again', () => {
  it('is held without power, and says why', () => {
    const driver = underWay();
    const sent = driver.sent.length;
    startAgain(driver);
    expect(driver.state.session.phase).toEqual({
      kind: 'powerless',
      why: 'the server was started again during the session',
    });
    expect(driver.state.session.clock.running).toBe(false);
    expect(driver.sentSince(sent)).toEqual(
      expect.arrayContaining([
        { kind: 'ask-state' },
        { kind: 'set-power', district: 0, on: false },
        { kind: 'stop-all' },
      ]),
    );
    const log = driver.effects.flatMap((effect) => (effect.kind === 'log' ? [effect.text] : []));
    expect(log.at(-1)).toContain('nothing moves before all are confirmed');
  });

  it('knows no section, no turnout, no bus and no place any more', () => {
    const driver = underWay();
    startAgain(driver);
    expect(driver.state.sections.every(({ belief }) => belief === 'unknown')).toBe(true);
    expect(driver.state.sections.every(({ decoders }) => decoders.length === 0)).toBe(true);
    expect(driver.element('TW')).toMatchObject({ position: 'straight', proof: 'none' });
    expect(driver.state.buses).toEqual({ bus1: false });
    expect(driver.state.trains.every(({ confirmed, adrift }) => !confirmed && adrift)).toBe(true);
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
  });

  it('tells no train to run before it is resumed, even what fell due meanwhile', () => {
    const driver = underWay();
    const sent = driver.sent.length;
    driver.feed({ at: driver.now + 60_000, kind: 'started-again' });
    driver.now += 60_000;
    driver.wait(1000);
    driver.lineUp('s-TW', 'w3', 'e2', 's-TE');
    const moved = driver
      .sentSince(sent)
      .filter((command) => command.kind === 'set-speed' && command.step > 0);
    expect(moved).toEqual([]);
  });

  it('is resumed from places that were confirmed anew', () => {
    const driver = linedUpAgain('w2', 'w3', 'e1', 'e2');
    expect(driver.command({ kind: 'resume' })).toBe('open-questions');
    expect(confirm(driver, 'P')).toBeNull();
    expect(confirm(driver, 'G')).toBeNull();
    expect(driver.element('TW')).toMatchObject({ position: 'straight', proof: 'proven' });
    driver.wait(1000);
    expect(driver.command({ kind: 'resume' })).toBeNull();
    driver.wait(10);
    expect(driver.speedOf(3)).toBeGreaterThan(0);
  });

  it('asks about a train that may have run on beyond its way, though its decoder answers', () => {
    const driver = runningLine();
    startAgain(driver);
    driver.wait(1000);
    driver.lineUp('a2', 'b1');
    driver.report('a2', 3);
    const row = driver.row('T');
    expect(row.status).toBe('ask');
    expect(row.text).toContain('next to its way is occupied too');
  });

  it('asks about a train that may stand beyond a turnout which no longer sees it', () => {
    const driver = runningCrossing();
    driver.wait(1000);
    startAgain(driver);
    driver.wait(1000);
    driver.lineUp('w2', 'm1', 'e1', 'e2');
    driver.report('w2', 3);
    expect(driver.row('P')).toMatchObject({ status: 'ask' });
    expect(driver.row('P').text).toContain('section m1 next to its way is occupied too');
  });

  it('asks about a train beyond whose way stands what is held for another', () => {
    const driver = underWay();
    startAgain(driver);
    driver.wait(1000);
    driver.lineUp('w2', 'm3', 'e1', 'e2');
    driver.report('w2', 3);
    // What stands in M cannot be P with its locomotive in W: somebody may have got that way since.
    expect(driver.row('P')).toMatchObject({ status: 'ask' });
    expect(driver.row('P').text).toContain('section m3 on its way is occupied too, further off');
    expect(confirm(driver, 'P')).toBe('too-far-apart');
    const place = { kind: 'confirm-place', train: 0, heading: driver.heading('W>b') } as const;
    expect(driver.command(place)).toBe(null);
    expect(driver.heldBy('P')).toEqual(['W']);
    expect(driver.command({ kind: 'resume' })).toBe('open-questions');
  });

  it('asks about two trains that stand so close that either may reach over to the other', () => {
    const driver = new SessionDriver(line(), bothAnswer(), timetableOf([], {}, NEXT_TO));
    driver.lineUp('a2', 'b1', 'b2');
    driver.report('a2', 3);
    driver.report('b2', 4);
    driver.command({ kind: 'start' });
    startAgain(driver);
    driver.wait(1000);
    driver.lineUp('a2', 'b1');
    driver.report('a2', 3);
    driver.report('b1', 4);
    expect(driver.row('P').text).toContain('section b1 next to its way is occupied too');
    expect(driver.row('Q').text).toContain('section a2 next to its way is occupied too');
  });

  it('asks about a train that may have come onto track that no detector sees', () => {
    const driver = underWay(
      edited(dividedLoop(), (layout) => {
        elementOf(layout, 'TE', 'turnout').section = null;
      }),
    );
    startAgain(driver);
    driver.wait(1000);
    driver.lineUp('m3', 'e1');
    driver.report('m3', 3);
    expect(driver.row('P').text).toContain('it may have run on where nothing sees it');
  });

  it('asks again about a place that was confirmed when nothing is detected there any more', () => {
    const driver = linedUpAgain('w2', 'w3', 'e1', 'e2');
    expect(confirm(driver, 'P')).toBeNull();
    driver.free('w3');
    driver.wait(1000);
    expect(driver.train('P').confirmed).toBe(false);
    expect(driver.row('P').status).toBe('ask');
  });

  it('takes no train over unasked when more was lost than the moment between two writings', () => {
    const driver = runningLine();
    driver.feed({ at: driver.now, kind: 'started-again', tailLost: true });
    driver.wait(1000);
    driver.lineUp('a2');
    driver.report('a2', 3);
    expect(driver.row('T')).toMatchObject({ status: 'ask' });
    expect(driver.row('T').text).toContain('much of what happened before the restart was lost');
    expect(driver.command({ kind: 'resume' })).toBe('open-questions');
    expect(
      driver.command({ kind: 'confirm-place', train: 0, heading: driver.heading('A>b') }),
    ).toBeNull();
    expect(driver.row('T').status).toBe('confirmed');
    startAgain(driver);
    driver.wait(1000);
    driver.lineUp('a2');
    driver.report('a2', 3);
    expect(driver.row('T').status).toBe('confirmed');
  });

  it('takes no decoder that was read before for an answer', () => {
    const driver = underWay();
    driver.report('w3', 3);
    startAgain(driver);
    driver.wait(1000);
    driver.lineUp('w2', 'w3', 'e1', 'e2');
    expect(driver.row('P').status).toBe('ask');
  });

  it('stops the layout and switches it off though it knows of no power: all since may be lost', () => {
    const driver = new SessionDriver(dividedLoop(), twoTrains(), crossing());
    startAgain(driver);
    expect(driver.sentSince(0)).toEqual(
      expect.arrayContaining([{ kind: 'set-power', district: 0, on: false }, { kind: 'stop-all' }]),
    );
    expect(driver.state.session.phase.kind).toBe('set-up');
  });

  it.each(['set-up', 'ended'] as const)('stays %s', (kind) => {
    const driver = underWay();
    driver.state.session.phase = { kind };
    startAgain(driver);
    expect(driver.state.session.phase).toEqual({ kind });
  });

  it('falls back from a line-up that was not finished, and from a second restart in a row', () => {
    const driver = linedUpAgain('w2', 'w3', 'e1', 'e2');
    expect(confirm(driver, 'P')).toBeNull();
    startAgain(driver);
    startAgain(driver);
    expect(driver.state.session.phase.kind).toBe('powerless');
    expect(driver.train('P').confirmed).toBe(false);
  });
});

describe('a turnout without feedback, after a restart', () => {
  const blind = edited(dividedLoop(), (layout) => {
    elementOf(layout, 'TW', 'turnout').drive.feedback = false;
  });

  it('is commanded anew ahead of a confirmed train, and only then may the session be resumed', () => {
    const driver = underWay(blind);
    startAgain(driver);
    driver.wait(1000);
    driver.lineUp('w2', 'w3', 'e1', 'e2');
    const sent = driver.sent.length;
    expect(confirm(driver, 'P')).toBeNull();
    expect(confirm(driver, 'G')).toBeNull();
    const element = driver.elementIndex('TW');
    expect(driver.sentSince(sent)).toContainEqual({
      kind: 'set-drive',
      element,
      position: 'straight',
    });
    expect(driver.command({ kind: 'resume' })).toBe('being-proven');
    driver.wait(1500);
    expect(driver.element('TW').proof).toBe('presumed');
    expect(driver.command({ kind: 'resume' })).toBeNull();
  });

  it('is never commanded under a train, and presumed to lie as it did', () => {
    const driver = underWay(blind);
    driver.occupied('s-TW');
    startAgain(driver);
    driver.wait(1000);
    const sent = driver.sent.length;
    driver.lineUp('w3', 's-TW', 'e1', 'e2');
    expect(confirm(driver, 'P')).toBeNull();
    expect(driver.element('TW')).toMatchObject({ position: 'straight', proof: 'presumed' });
    expect(driver.sentSince(sent).filter(({ kind }) => kind === 'set-drive')).toEqual([]);
  });
});
