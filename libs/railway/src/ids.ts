/**
 * Names of things, as the builder and the planner write them in the files. Every id begins with a
 * letter, so that no id can be taken for an array index and key order stays insertion order.
 */
declare const name: unique symbol;
type Id<K extends string> = string & { readonly [name]: K };

export type ElementId = Id<'element'>;
export type SectionId = Id<'section'>;
export type DistrictId = Id<'district'>;
export type BusId = Id<'bus'>;
export type StationId = Id<'station'>;
export type LocomotiveId = Id<'locomotive'>;
export type CarId = Id<'car'>;
export type TrainId = Id<'train'>;
export type ServiceId = Id<'service'>;
export type WorkingId = Id<'working'>;

/** What an id must look like: a letter, then letters, digits, `-`, `_` or `.`; at most 40 characters. */
export const ID_PATTERN = /^[A-Za-z][A-Za-z0-9_.-]{0,39}$/;
