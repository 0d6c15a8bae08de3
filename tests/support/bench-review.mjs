// `npm run bench:review`: how long a step takes when a session is looked at again, forward and back, from the key to the picture.
import { prepare } from '../../apps/cli/setup/prepare.mjs';
import { beginSession, command, look, runSession } from './drive-session.mjs';
import { ensureChromium } from './find-chromium.mjs';
import { quantile } from './frame-times.mjs';
import { launchChromium } from './launch-chromium.mjs';
import { ServerProcess } from './server-process.mjs';

const VIEW = { viewport: { width: 1280, height: 800 } };
/** Physical ms of the session that are looked back on, and the pace at which they are run. */
const LENGTH = 15 * 60_000;
const PACE = 60;
/** A step is over when nothing on the page has changed for so long, ms. */
const QUIET = 250;
/** What is to be reached, ms. */
const STEP = 100;

/** Steps by name: the key, where the slider is put before them, and how many there is room for. */
const KINDS = [
  ['5 s forward', 'ArrowRight', 0.3, 40],
  ['5 s back', 'ArrowLeft', 0.7, 40],
  ['a minute forward', 'PageUp', 0, 13],
  ['a minute back', 'PageDown', 1, 13],
];
/** Moments that are gone to at a stroke, all over the session. */
const MOMENTS = 41;

prepare();
process.env.CHROMIUM_PATH = ensureChromium();
const server = new ServerProcess();
const browser = await launchChromium();
let missed = false;
try {
  await server.start();
  await beginSession(server.address);
  await runSession(server.address, PACE);
  const begun = (await look(server.address)).now;
  while ((await look(server.address)).now < begun + LENGTH)
    await new Promise((done) => setTimeout(done, 500));
  const { id } = (await look(server.address)).rows.session;
  await command(server.address, { kind: 'cut-power' });
  // Not until the last piece is written.
  await new Promise((done) => setTimeout(done, 6_000));
  const page = await browser.newPage(VIEW);
  await page.addInitScript(watchSteps);
  await page.goto(`${server.address}#/sessions/${id.replace('session-', '')}`);
  const slider = page.getByRole('slider', { name: 'Moment of the session' });
  await slider.focus();
  const length = Number(await slider.getAttribute('max'));
  console.log(
    '| step | steps | trains: p50 ms | p95 ms | most | everything: p50 ms | p95 ms | most |',
  );
  console.log('| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |');
  for (const [name, key, from, steps] of KINDS) {
    await slider.fill(String(Math.round(length * from)));
    await page.waitForTimeout(2 * QUIET);
    const times = [];
    for (let step = 0; step < steps; step += 1)
      times.push(await timed(page, () => page.keyboard.press(key)));
    row(name, times);
  }
  const times = [];
  for (let step = 0; step < MOMENTS; step += 1) {
    const to = Math.round((((step + 1) * 17) % MOMENTS) * (length / MOMENTS));
    times.push(await timed(page, () => slider.fill(String(to))));
  }
  row('anywhere', times);
} finally {
  await browser.close();
  await server.remove();
}
process.exitCode = missed ? 1 : 0;

/** Ms from an input to the paint of the trains' places, and to that of the last change on the page. */
async function timed(page, act) {
  await page.evaluate(() => window.stepWatch.begin());
  await act();
  return page.evaluate((quiet) => window.stepWatch.end(quiet), QUIET);
}

function row(name, times) {
  const figures = ['trains', 'everything'].flatMap((what) => {
    const taken = times.flatMap((it) => it[what] ?? []);
    return [0.5, 0.95, 1].map((share) => quantile(taken, share).toFixed(0));
  });
  console.log(`| ${name} | ${times.length} | ${figures.join(' | ')} |`);
  missed ||=
    quantile(
      times.map(({ everything }) => everything),
      0.95,
    ) > STEP;
}

/** In the page: notes when it is told to go elsewhere, and when what it shows changes. */
function watchSteps() {
  let began = null;
  let trains = null;
  let last = null;
  /** A change is seen when its frame has been painted: the next task after that frame's callbacks. */
  const painted = (then) => requestAnimationFrame(() => setTimeout(() => then(performance.now())));
  const note = () => (began ??= performance.now());
  addEventListener('keydown', note, true);
  addEventListener('input', note, true);
  new MutationObserver((changes) => {
    if (began === null) return;
    const moved = changes.some(({ target }) =>
      target.parentElement?.closest('[aria-label="Trains on the track"]'),
    );
    painted((at) => {
      last = at;
      if (moved) trains ??= at;
    });
  }).observe(document, { childList: true, subtree: true, attributes: true, characterData: true });
  window.stepWatch = {
    begin() {
      began = trains = last = null;
    },
    /** Once nothing has changed for `quiet` ms. */
    async end(quiet) {
      const isOver = () => last !== null && performance.now() - last >= quiet;
      while (!isOver()) await new Promise((done) => setTimeout(done, 20));
      return { trains: trains === null ? null : trains - began, everything: last - began };
    },
  };
}
