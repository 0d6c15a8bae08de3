import type { SpeedPoint } from '@blockbell/railway/track';

/** Speed at a 126-step command, mm/s: linear between the measured points and from standing to the first. */
export function speedOfStep(table: readonly SpeedPoint[], step: number): number {
  let lower: { readonly step: number; readonly speed: number } = { step: 0, speed: 0 };
  for (const point of table) {
    if (step <= point.step) {
      if (point.step === lower.step) return point.speed;
      const share = (step - lower.step) / (point.step - lower.step);
      return lower.speed + (point.speed - lower.speed) * share;
    }
    lower = point;
  }
  return lower.speed;
}
