import type { Page } from 'playwright-core';

/** A control of the Run screen, or some that differ by the name of a train or a place alone. */
export interface RunControl {
  /** As the table in docs/board-controls.md calls it. */
  readonly control: string;
  /** What it is on the page: its kind, a space, its name. */
  readonly is: RegExp;
  /** The file in tests/browser that drives it. */
  readonly drivenBy: string;
}

const HERE = 'run-controls';
const BY_HAND = 'by-hand';

const row = (control: string, is: RegExp, drivenBy = HERE): RunControl => ({
  control,
  is,
  drivenBy,
});

/** All there are. What is on the page and not among them fails the test. */
export const RUN_CONTROLS: readonly RunControl[] = [
  row('name at the board', /^input Who is at the board/),
  row('use this name', /^button Use this name$/),
  row('screens', /^a (Run|Timetable|Staging|Trial|Rehearsal|Sessions|People)$/),
  row('session and display', /^button Session and display$/),
  row('your name on commands', /^input Your name on commands$/),
  row('light, dark, as the system', /^input (As the system|Light|Dark)$/),
  row('ratio of the fast clock', /^select Fast clock/),
  row('end session', /^button End session$/),
  row('yes, end it', /^button Yes, end it$/),
  row('pace', /^select Pace of the simulated time$/),
  row('cut power', /^button Cut power/),
  row('alarms waiting', /^button (No alarms|\d+ alarms?)/),
  row('close a message', /^button Close this message$/),
  row('power up', /^button Power up$/),
  row('start', /^button Start$/),
  row('pause', /^button Pause$/),
  row('resume', /^button Resume$/),
  row('hold departures', /^button Hold departures$/),
  row('let departures go', /^button Let departures go$/),
  row('stop all now', /^button Stop all now$/),
  row('train in the line-up', /^button \S+ in the line-up$/),
  row('confirm as listed', /^button Confirm \S+ as listed$/),
  row('confirm all as listed', /^button Confirm all \d+ as listed$/),
  row('stands elsewhere', /^button \S+ stands elsewhere$/),
  row('where it stands', /^select Where \S+ stands$/),
  row('stands there', /^button \S+ stands there$/),
  row('not on the layout', /^button \S+ is not on the layout$/),
  row('track diagram', /^group Track diagram of /),
  row('find on the track', /^input Find a train, block or turnout on the track$/, BY_HAND),
  row('larger', /^button Larger$/),
  row('smaller', /^button Smaller$/),
  row('show all', /^button Show all$/),
  row('train on the diagram', /^button Train [^,]+, /),
  row('train in the list', /^button .*, known /),
  row('train on the graph', /^button Train \S+ on the graph$/),
  row('whole session', /^button Whole session$/),
  row('close what is chosen', /^button Close$/),
  row('hold here, let go', /^button (Hold here|Let go)$/, BY_HAND),
  row('show the effect', /^button Show the effect of /),
  row('leave the effect', /^button (Leave it|Stop working it out)$/),
  row('set a route', /^button Set a route$/, BY_HAND),
  row('block where the way shall end', /^input Block where the way of /, BY_HAND),
  row('set it', /^button Set it$/),
  row('leave setting a route', /^button Leave$/),
  row('give the way back', /^button Give the way back$/, BY_HAND),
  row('turn round', /^button Turn round$/),
  row('take in hand, give back', /^button (Take in hand|Give back to the timetable)$/, BY_HAND),
  row('speed lever', /^input Speed$/, BY_HAND),
  row('stop the train in hand', /^button Stop$/, BY_HAND),
  row('speed as a number', /^input Speed in mm\/s/),
  row('change what it does', /^summary Change what /),
  row('goes into', /^select Goes into$/),
  row('choose the track', /^button Choose$/),
  row('goes before', /^select Goes before$/),
  row('let it go first', /^button Let it go first$/),
  row('does not run', /^select Does not run$/),
  row('cancel', /^button Cancel$/),
  row('place of an added service', /^select Goes to$/),
  row('track of an added service', /^select Track$/),
  row('time of an added service', /^input Not before$/),
  row('name of an added service', /^input Its name$/),
  row('add it', /^button Add .* to the work of /),
  row('bring a train here', /^select Bring a train here$/),
  row('set a route for the train', /^button Set a route for \S+$/),
  row('close for work', /^input Close for work$/),
  row('close track', /^button Close .+$/),
  row('reopen track', /^button Reopen .+$/),
  row(
    'wish taken back',
    /^button (Leave the track at|Take back that|Have .* run after all)/,
    'what-if',
  ),
  row(
    'command after its effect',
    /^button (.* after all|Close it|Reopen it|Let \S+ go|Hold \S+)$/,
    'what-if',
  ),
  row('which train it is', /^button (It is \S+|\S+ stands in .+)$/, 'identity'),
  row('another train stands there', /^select Another train stands in /, 'identity'),
  row('reset of a track', /^button (Reset .+|I looked: .+ is clear|Not now)$/, 'identity'),
  row('unidentified in the list', /^button \? \?/, 'identity'),
  row(
    'return to start',
    /^(button (Plan|Plan again|Carry out|Stop the return)|group Moves and what is left)$/,
    'after-the-end',
  ),
  row('after the end', /^(a Look back on this session|button Begin again .*)$/, 'after-the-end'),
  row('release', /^button Release: it may go on$/, 'alarms'),
  row('acknowledge', /^button Acknowledge: /, 'alarms'),
];

/** Kind and name of every control of the page that is seen, as people who don't see the page are told of it. */
export const controlsOn = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const nameOf = (one: Element): string =>
      one.getAttribute('aria-label') ??
      ((one instanceof HTMLInputElement || one instanceof HTMLSelectElement) &&
      one.labels !== null &&
      one.labels.length > 0
        ? (one.labels[0]!.firstChild?.textContent ?? '').trim() || one.labels[0]!.textContent
        : one.textContent) ??
      '';
    const kinds =
      'a[href], button, input, select, textarea, summary, [role=button], [tabindex="0"]';
    const seen = [...document.querySelectorAll(kinds)].filter((one) => one.checkVisibility());
    return seen.map((one) => {
      const kind = one.getAttribute('role') ?? one.tagName.toLowerCase();
      const name = nameOf(one).trim().replaceAll(/\s+/g, ' ');
      const inLineUp = one.hasAttribute('aria-pressed') && one.closest('[aria-label="Line-up"]');
      return `${kind} ${name}${inLineUp ? ' in the line-up' : ''}`;
    });
  });

/** What of these no row of the table is. */
export const unknownAmong = (controls: readonly string[]): string[] =>
  controls.filter((control) => !RUN_CONTROLS.some(({ is }) => is.test(control)));

/** The row of the table with this name. */
export function rowOf(control: string): RunControl {
  const found = RUN_CONTROLS.find((each) => each.control === control);
  if (found === undefined) throw new Error(`the table has no control “${control}”`);
  return found;
}
