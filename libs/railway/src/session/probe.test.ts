import { it } from 'vitest';
import { runningLine, runningCrossing } from '../testing/session-settings.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
it('probe', () => {
  const d = runningLine();
  const m = new MirrorTraffic(d);
  m.runTo(1_000_000);
  console.log(d.path('T'), d.alarms(), d.train('T').calls, d.state.counts, d.train('T').wait);
  const c = runningCrossing();
  new MirrorTraffic(c).runTo(400_000);
  console.log(c.now, c.path('P'), c.path('G'), c.train('P').wait, c.train('G').wait, c.state.counts, c.alarms());
});
