/**
 * Identity colours: which train, never which state. Chosen as far apart as possible in a perceptual space, also as
 * the two commonest kinds of colour-blind viewers see them, with at least 3:1 against every ground. Plain red is
 * left out: the one red thing on the board cuts power.
 */
export const LIGHT_COLOURS = [
  '#2b6cb8',
  '#b5531c',
  '#2a815f',
  '#a93062',
  '#8a4fa6',
  '#1f7f8c',
  '#5f6b1a',
  '#3b0e9f',
  '#622b09',
  '#7766f1',
  '#611a5b',
  '#1442be',
  '#224536',
  '#767ab5',
  '#871c75',
  '#1e613d',
  '#514295',
  '#c54d92',
] as const;

export const DARK_COLOURS = [
  '#66a9f2',
  '#ef8e54',
  '#4dc093',
  '#ee6a9c',
  '#c387e2',
  '#52c0d0',
  '#b3c154',
  '#7370fa',
  '#efc189',
  '#d3befd',
  '#c34fc2',
  '#7199a9',
  '#92debb',
  '#ecc914',
  '#f993ba',
  '#4c9778',
  '#b47459',
  '#90fd77',
] as const;

/** The style property that holds a train's colour in the theme in force. */
export const trainInk = (train: number): string => `--train-${train % LIGHT_COLOURS.length}`;

/** A train's colour, for a style sheet. */
export const trainColour = (train: number): string => `var(${trainInk(train)})`;

/** Trains beyond the palette share colours; from the second round on their bands carry a stripe. */
export const isStriped = (train: number): boolean => train >= LIGHT_COLOURS.length;

/** Declarations of the colours of one theme. */
export const colourProperties = (colours: readonly string[]): string =>
  colours.map((colour, index) => `--train-${index}: ${colour};`).join('');
