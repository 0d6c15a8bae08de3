/**
 * Branded units. A number gets its unit once, where it enters (a file, a message, a measurement);
 * from then on the compiler refuses a length where a speed is meant. All of them are integers
 * wherever they decide something, so that a session is the same on every machine.
 */
declare const unit: unique symbol;
type Quantity<U extends string> = number & { readonly [unit]: U };

/** Length on the model, in millimetres. */
export type Millimetres = Quantity<'mm'>;
/** Position along a train's path, in micrometres: mm/s times ms, so that constant speed stays an integer. */
export type Micrometres = Quantity<'µm'>;
/** Speed of the model, in millimetres per second. */
export type MillimetresPerSecond = Quantity<'mm/s'>;
/** Speed of the model, in micrometres per second: mm/s² times ms, so that a ramp stays an integer. */
export type MicrometresPerSecond = Quantity<'µm/s'>;
/** Acceleration or braking of the model, in mm/s². */
export type MillimetresPerSecondSquared = Quantity<'mm/s²'>;
/** A span of physical time, in milliseconds. */
export type Milliseconds = Quantity<'ms'>;
/** A moment of physical time, in milliseconds since the session was created. */
export type Instant = Quantity<'instant'>;
/** A moment on the fast clock, in milliseconds since its midnight (may pass 24 h). */
export type FastTime = Quantity<'fast'>;
/** Prototype speed, in km/h; only in files and on screens. */
export type KilometresPerHour = Quantity<'km/h'>;

export const mm = (value: number): Millimetres => value as Millimetres;
export const um = (value: number): Micrometres => value as Micrometres;
export const mmPerS = (value: number): MillimetresPerSecond => value as MillimetresPerSecond;
export const umPerS = (value: number): MicrometresPerSecond => value as MicrometresPerSecond;
export const mmPerS2 = (value: number): MillimetresPerSecondSquared =>
  value as MillimetresPerSecondSquared;
export const ms = (value: number): Milliseconds => value as Milliseconds;
export const instant = (value: number): Instant => value as Instant;
export const fastTime = (value: number): FastTime => value as FastTime;
export const kmPerH = (value: number): KilometresPerHour => value as KilometresPerHour;

/** The instant `span` after `at`. */
export const after = (at: Instant, span: number): Instant => instant(at + span);
