/**
 * The natural logarithm of a number above zero, by + − × ÷ alone: `Math.log` may differ from machine to machine in its last
 * digits, and the same seed must draw the same everywhere. ln(m · 2ᵏ) = k · ln 2 + 2 · artanh((m − 1) ÷ (m + 1)), with m near 1.
 */
export function naturalLogarithm(of: number): number {
  let m = of;
  let k = 0;
  for (; m > 1.5; k++) m /= 2;
  for (; m < 0.75; k--) m *= 2;
  return k * LN_2 + 2 * artanh((m - 1) / (m + 1));
}

/** By its series z + z³/3 + z⁵/5 + …, as far as it adds anything for |z| up to a third. */
function artanh(z: number): number {
  let sum = 0;
  let power = z;
  for (let n = 1; n <= TERMS; n += 2) {
    sum += power / n;
    power *= z * z;
  }
  return sum;
}

const TERMS = 41;
const LN_2 = 2 * artanh(1 / 3);
