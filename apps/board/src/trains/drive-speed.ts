/** What a key changes the speed by, mm/s; Home and End go to a stand and to the top speed. */
const KEY_CHANGES: Readonly<Record<string, number>> = {
  ArrowUp: 5,
  ArrowRight: 5,
  ArrowDown: -5,
  ArrowLeft: -5,
  PageUp: 25,
  PageDown: -25,
  Home: -Infinity,
  End: Infinity,
};

/** A speed that may be asked for, mm/s: whole, from 0 to the top speed; what is no number is a stand. */
export const speedWithin = (speed: number, top: number): number =>
  Number.isNaN(speed) ? 0 : Math.max(0, Math.min(top, Math.round(speed)));

/** The speed after a key on the lever, mm/s; null where the key means nothing to it. */
export function speedAfterKey(key: string, speed: number, top: number): number | null {
  const change = KEY_CHANGES[key];
  return change === undefined ? null : speedWithin(speed + change, top);
}

/** A speed on the layout, mm/s, as the prototype's at a scale of 1 : `ratio`, whole km/h. */
export const prototypeSpeed = (speed: number, ratio: number): number =>
  Math.round((speed * 3.6 * ratio) / 1000);

/** A speed in both units: "120 mm/s, 38 km/h". */
export const speedText = (speed: number, ratio: number): string =>
  `${Math.round(speed)} mm/s, ${prototypeSpeed(speed, ratio)} km/h`;
