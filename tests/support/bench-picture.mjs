// `npm run bench:picture`: how soon the board shows a railway of 2,040 sections, and what each picture of its 60 trains costs.
// `-- --explain` also tells what that time goes into; functions have readable names after
// `npm run build --workspace @blockbell/board -- --minify false`.
import { generateRailway } from '@blockbell/simulation';
import { prepare } from '../../apps/cli/setup/prepare.mjs';
import { beginSession, look, runSession, setPace, until } from './drive-session.mjs';
import { ensureChromium } from './find-chromium.mjs';
import { drawingThread, frameTimes, quantile, TRACED } from './frame-times.mjs';
import { launchChromium } from './launch-chromium.mjs';
import { costText, workByFunction, workByKind } from './picture-costs.mjs';
import { ServerProcess } from './server-process.mjs';

const TRAINS = 60;
/** Fast-clock time runs so fast that every train is soon behind its booked times and wants to run. */
const RUSH = 60;
const SECONDS = 20;
/** Pictures are measured from when so many trains move: they set off one after the other. */
const UNDER_WAY = 25;
/** How often a page is opened; the first of a browser takes longer than those that follow. */
const VISITS = 5;
const VIEW = { viewport: { width: 1280, height: 800 } };
/** What is to be reached, ms. */
const FIRST_PICTURE = 1000;
const FRAME = 8;
const EXPLAIN = process.argv.includes('--explain');

const railway = generateRailway({
  seed: 1,
  sections: 2040,
  trains: TRAINS,
  singleLineShare: 0.4,
  services: TRAINS * 8,
});
const { timetable } = railway;
const files = {
  ...railway,
  timetable: { ...timetable, clock: { ...timetable.clock, ratio: RUSH } },
};
const stripped = {
  ...files,
  layout: {
    ...files.layout,
    elements: files.layout.elements.map((element) => ({ ...element, draw: undefined })),
  },
};

prepare();
process.env.CHROMIUM_PATH = ensureChromium();
const server = new ServerProcess();
const browser = await launchChromium();
let missed = false;
try {
  await server.start();
  console.log('| first picture | least clock, ms | median | least processor, ms | median |');
  console.log('| --- | ---: | ---: | ---: | ---: |');
  await beginSession(server.address, { files: stripped });
  await firstPictures('without positions');
  await beginSession(server.address, { files });
  await firstPictures('with positions in the file');
  await runSession(server.address, 1);
  await until(`${UNDER_WAY} trains move`, async () => (await movingTrains()) >= UNDER_WAY);
  console.log(
    '\n| pictures | count | trains moving | p50 ms | p95 ms | p99 ms | max ms | p95 by the clock |',
  );
  console.log('| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |');
  for (const pace of [1, 20]) for (const magnified of [0, 7]) await frames(pace, magnified);
} finally {
  await browser.close();
  await server.remove();
}
process.exitCode = missed ? 1 : 0;

/** Opens the page as often as is to be measured. */
async function firstPictures(name) {
  const visits = [];
  for (let visit = 0; visit < VISITS; visit += 1) visits.push(await firstPicture());
  const figures = ['clock', 'processor'].flatMap((kind) => {
    const taken = visits.map((it) => it[kind]);
    return [Math.min(...taken), quantile(taken, 0.5)].map((ms) => ms.toFixed(0));
  });
  console.log(`| ${name} | ${figures.join(' | ')} |`);
  missed ||= Number(figures[1]) > FIRST_PICTURE;
}

/**
 * Milliseconds: by the clock, from the last byte of the session's files to the first picture of track and trains, connection and
 * snapshot in between; and of processor time on the page's main thread, from its beginning.
 */
async function firstPicture() {
  const context = await browser.newContext(VIEW);
  const page = await context.newPage();
  const client = await context.newCDPSession(page);
  await client.send('Performance.enable', { timeDomain: 'threadTicks' });
  await page.addInitScript(() => {
    const watcher = new MutationObserver(() => {
      const label = document.querySelector('[aria-label="Trains on the track"] [role="button"]');
      if (!label) return;
      watcher.disconnect();
      // The picture is painted after the callbacks of its frame; the next task comes after that.
      requestAnimationFrame(() => setTimeout(() => performance.mark('first-picture')));
    });
    watcher.observe(document, { childList: true, subtree: true });
  });
  await page.goto(server.address);
  await page.waitForFunction(() => performance.getEntriesByName('first-picture').length > 0);
  const clock = await page.evaluate(() => {
    const loaded = performance
      .getEntriesByType('resource')
      .find(({ name }) => name.endsWith('/api/session/files'));
    return performance.getEntriesByName('first-picture')[0].startTime - loaded.responseEnd;
  });
  const { metrics } = await client.send('Performance.getMetrics');
  const tasks = metrics.find((it) => it.name === 'TaskDuration')?.value ?? NaN;
  await context.close();
  return { clock, processor: tasks * 1000 };
}

/** How many trains move now. */
async function movingTrains() {
  const { rows } = await look(server.address);
  return rows.trains.filter(({ motion }) => motion.speed > 0).length;
}

/** Lets the board draw at a pace, magnified so many steps, and measures. */
async function frames(pace, magnified) {
  await setPace(server.address, pace);
  const context = await browser.newContext(VIEW);
  const page = await context.newPage();
  await page.goto(server.address);
  const diagram = page.getByRole('group', { name: /^Track diagram of / });
  await diagram.focus();
  for (let step = 0; step < magnified; step += 1) await page.keyboard.press('+');
  const moving = [];
  const profiler = EXPLAIN ? await context.newCDPSession(page) : null;
  await profiler?.send('Profiler.enable');
  await profiler?.send('Profiler.start');
  await browser.startTracing(page, { categories: TRACED });
  for (let second = 0; second < SECONDS; second += 1) {
    await page.waitForTimeout(1000);
    moving.push(await movingTrains());
  }
  const trace = JSON.parse((await browser.stopTracing()).toString());
  const profiled = await profiler?.send('Profiler.stop');
  await context.close();
  const { wall, processor } = frameTimes(trace.traceEvents);
  const mean = moving.reduce((sum, count) => sum + count, 0) / moving.length;
  const figures = [0.5, 0.95, 0.99, 1].map((share) => quantile(processor, share).toFixed(2));
  const name = `×${pace}, ${magnified === 0 ? 'all of it' : 'magnified'}`;
  console.log(
    `| ${name} | ${processor.length} | ${mean.toFixed(0)} | ${figures.join(' | ')} | ${quantile(wall, 0.95).toFixed(2)} |`,
  );
  if (profiled) {
    const kinds = workByKind(drawingThread(trace.traceEvents), processor.length);
    console.log(costText('by kind', kinds));
    console.log(costText('by function', workByFunction(profiled.profile, processor.length)));
  }
  missed ||= quantile(processor, 0.95) > FRAME;
}
