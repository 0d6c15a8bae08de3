/** A number as people read it, with a true minus sign, not a hyphen, where it is below 0. */
export const signed = (value: string | number): string => `${value}`.replace('-', '−');
