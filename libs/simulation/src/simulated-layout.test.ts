import { compileLayout, compileStock } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { passingLoop } from './test-support/layouts.js';
import { openRig } from './test-support/rig.js';
import { locomotive, stockOf, train } from './test-support/stock.js';

describe('a run over the passing loop', () => {
  it('smoke', () => {
    const rig = openRig({
      layout: compileLayout(passingLoop()),
      stock: compileStock(stockOf([train(1, [{ car: 'coach', count: 2 }])], [locomotive(1)])),
      places: [['west', 'b']],
    });
    rig.run(1, 126);
    rig.until(40000);
    for (const s of rig.said) console.log(s.at, JSON.stringify(s.event));
    console.log(JSON.stringify(rig.simulated.truth.trains()), rig.simulated.truth.incidents);
    expect(1).toBe(1);
  });
});
