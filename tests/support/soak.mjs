// `npm run soak -- [minutes]`: the demo's session at ×1 with a board open, for an hour if nothing else is said. Prints what
// server and page hold in memory, and leaves with 1 when either grew or anything was reported as an error. All of it is also
// written to a file as it comes; stopped before its time (Ctrl-C), it still tells what it has found.
import { appendFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { prepare } from '../../apps/cli/setup/prepare.mjs';
import { command, look, runSession } from './drive-session.mjs';
import { ensureChromium } from './find-chromium.mjs';
import { launchChromium } from './launch-chromium.mjs';
import { ServerProcess } from './server-process.mjs';
import { growth } from './soak-growth.mjs';

const MINUTES = Number(process.argv[2] ?? 60);
if (!(MINUTES >= 3))
  throw new Error('a soak takes three minutes at least: npm run soak -- MINUTES');
/** The timetable's four hours take an hour at this ratio, so that trains run to the end. */
const CLOCK_RATIO = 4;
const MINUTE = 60_000;
/** By which share memory may be larger in the last third than it was in the second. */
const FLAT = 0.1;
const DESKTOP = { width: 1280, height: 800 };

const PROGRESS = join(tmpdir(), `blockbell-soak-${process.pid}.log`);

prepare();
writeFileSync(PROGRESS, `${new Date().toISOString()}: ${MINUTES} minutes\n`);
console.log(`what is found is also written to ${PROGRESS}`);
/** Settles when somebody stops it. */
const stopped = new Promise((resolve) => {
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.once(signal, () => resolve(signal));
});
process.env.CHROMIUM_PATH = ensureChromium();
const server = new ServerProcess({ BLOCKBELL_PLANNING: 'on' });
// A signal ends this program alone: the browser is closed once it has told.
const browser = await launchChromium({
  handleSIGINT: false,
  handleSIGTERM: false,
  handleSIGHUP: false,
});
const troubles = [];
const samples = [];
let early = false;
/** How many of the server's complaints are noted. */
let complaints = 0;
try {
  await server.start();
  await runSession(server.address, 1);
  await command(server.address, { kind: 'set-clock-ratio', ratio: CLOCK_RATIO });
  const context = await browser.newContext({ viewport: DESKTOP });
  const page = await context.newPage();
  page.on('console', (message) => {
    if (message.type() === 'error') note(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => note(`page: ${error.message}`));
  page.on('crash', () => note('page: it crashed'));
  await page.goto(server.address);
  const inspector = await context.newCDPSession(page);
  await inspector.send('Performance.enable');
  const began = performance.now();
  for (let minute = 1; minute <= MINUTES; minute++) {
    // By the clock: on a busy machine looking takes seconds of its own.
    const left = began + minute * MINUTE - performance.now();
    const signal = await Promise.race([pause(left), stopped]);
    if (signal) {
      early = true;
      tell(`stopped by ${signal} in minute ${minute} of ${MINUTES}`);
      break;
    }
    const sample = { minute, ...(await serverMemory()), ...(await pageMemory(inspector)) };
    samples.push(sample);
    tell(line(sample));
    for (const complaint of server.complaints().slice(complaints)) {
      complaints += 1;
      note(`server: ${complaint}`);
    }
  }
  // Ctrl-C may have ended the server too.
  if (!early) {
    const { rows } = await look(server.address);
    tell(`session: ${rows.session?.phase}, ${services(rows)} calls run, ${alarms(rows)} alarms`);
  }
} catch (error) {
  note(`soak: ${error instanceof Error ? error.message : String(error)}`);
} finally {
  await browser.close();
  await server.stop();
  for (const complaint of server.complaints().slice(complaints)) note(`server: ${complaint}`);
  await server.remove();
}
report();

/** Says a line and keeps it. */
function tell(text) {
  console.log(text);
  appendFileSync(PROGRESS, `${text}\n`);
}

/** Keeps an error for the report, and in the file at once. */
function note(trouble) {
  troubles.push(trouble);
  appendFileSync(PROGRESS, `error: ${trouble}\n`);
}

function pause(ms) {
  return new Promise((resolve) => setTimeout(() => resolve(null), ms).unref());
}

async function serverMemory() {
  const answer = await fetch(new URL('api/health', server.address));
  const { memory } = await answer.json();
  return { resident: memory.resident, heap: memory.heap };
}

async function pageMemory(inspector) {
  await inspector.send('HeapProfiler.collectGarbage');
  const { metrics } = await inspector.send('Performance.getMetrics');
  const of = (name) => metrics.find((metric) => metric.name === name)?.value ?? NaN;
  return { page: of('JSHeapUsedSize'), nodes: of('Nodes') };
}

function line({ minute, resident, heap, page, nodes }) {
  const mb = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;
  return `minute ${minute}: server ${mb(resident)} resident, ${mb(heap)} heap; page ${mb(page)} heap, ${nodes} nodes`;
}

function report() {
  const grew = samples.length < 3 ? null : anyGrew();
  for (const trouble of troubles) tell(trouble);
  const memory =
    grew === null ? 'is unknown: under three minutes tell nothing' : grew ? 'grew' : 'stayed flat';
  tell(`${troubles.length} errors reported; memory ${memory}.`);
  process.exitCode = grew === false && troubles.length === 0 ? 0 : 1;
}

function anyGrew() {
  let grew = false;
  for (const what of ['resident', 'heap', 'page', 'nodes']) {
    const share = growth(samples.map((sample) => sample[what]));
    const percent = `${(share * 100).toFixed(1)} %`;
    tell(`${what}: the last third's least is ${percent} above the second third's`);
    grew ||= share > FLAT;
  }
  return grew;
}

function services(rows) {
  return (rows.runs ?? []).reduce((sum, { calls }) => sum + calls.length, 0);
}

function alarms(rows) {
  return (rows.alarms ?? []).length;
}
