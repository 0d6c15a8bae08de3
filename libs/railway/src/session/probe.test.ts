import { it } from 'vitest';
import { runningLine, runningCrossing } from '../testing/session-settings.js';
it('probe', () => {
  const d = runningLine();
  const show = () => console.log(d.now, d.path('T'), JSON.stringify({ ...d.train('T'), path: 0, reckoning: 0, calls: 0, nodes: 0 }), d.sent.slice(-2).map(s => JSON.stringify(s)), JSON.stringify(d.state.deadlines), d.alarms());
  show();
  d.wait(10_100); show();
  d.wait(300); d.occupied('b1'); show();
  d.wait(1300); d.occupied('b2'); show();
  const c = runningCrossing();
  c.wait(51_000);
  console.log(c.now, c.path('P'), c.path('G'), c.train('P').wait, c.train('G').wait, c.state.counts, c.state.alarms);
});
