import { blockOf, endAhead, type Heading, type Layout } from '@blockbell/railway';

/** The end of a block that a heading looks to, as layout files write it: `Y1.b`. */
export const endName = (layout: Layout, heading: Heading): string =>
  `${layout.elements[blockOf(heading)]!.id}.${endAhead(heading)}`;
