// `npm run soak -- [minutes]`: the demo's session at ×1 with a board open, for an hour if nothing else is said. Prints what
// server and page hold in memory, and leaves with 1 when either grew or anything was reported as an error.
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

prepare();
process.env.CHROMIUM_PATH = ensureChromium();
const server = new ServerProcess({ BLOCKBELL_PLANNING: 'on' });
const browser = await launchChromium();
const troubles = [];
const samples = [];
try {
  await server.start();
  await runSession(server.address, 1);
  await command(server.address, { kind: 'set-clock-ratio', ratio: CLOCK_RATIO });
  const context = await browser.newContext({ viewport: DESKTOP });
  const page = await context.newPage();
  page.on('console', (message) => {
    if (message.type() === 'error') troubles.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => troubles.push(`page: ${error.message}`));
  await page.goto(server.address);
  const inspector = await context.newCDPSession(page);
  await inspector.send('Performance.enable');
  const began = performance.now();
  for (let minute = 1; minute <= MINUTES; minute++) {
    // By the clock: on a busy machine looking takes seconds of its own.
    const left = began + minute * MINUTE - performance.now();
    await new Promise((resolve) => setTimeout(resolve, left));
    const sample = { minute, ...(await serverMemory()), ...(await pageMemory(inspector)) };
    samples.push(sample);
    console.log(line(sample));
  }
  const { rows } = await look(server.address);
  console.log(
    `session: ${rows.session?.phase}, ${services(rows)} calls run, ${alarms(rows)} alarms`,
  );
} finally {
  await browser.close();
  await server.stop();
  troubles.push(...server.complaints());
  await server.remove();
}
report();

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
  let grew = false;
  for (const what of ['resident', 'heap', 'page', 'nodes']) {
    const share = growth(samples.map((sample) => sample[what]));
    const percent = `${(share * 100).toFixed(1)} %`;
    console.log(`${what}: the last third's least is ${percent} above the second third's`);
    grew ||= share > FLAT;
  }
  for (const trouble of troubles) console.log(trouble);
  console.log(`${troubles.length} errors reported; memory ${grew ? 'grew' : 'stayed flat'}.`);
  process.exitCode = grew || troubles.length > 0 ? 1 : 0;
}

function services(rows) {
  return (rows.runs ?? []).reduce((sum, { calls }) => sum + calls.length, 0);
}

function alarms(rows) {
  return (rows.alarms ?? []).length;
}
