import type { Writer } from '../session/writer.js';
import { adjoins } from './adjacent.js';

/**
 * What counts as independent evidence of who stands in a section: each decoder once for as long as the section stays
 * occupied. A detector that goes on reading a decoder, or whose message comes twice, says nothing new; a reading by another
 * section's detector, or by the same one after it read free, does. So one detector's fault can never
 * outweigh what others say. A train read from far that has come next to the section since counts once more.
 *
 * Returns whether the reading is new, and remembers it. Reading a stretch anew begins when its section reads free or its
 * holder lets it go. Common practice, no source.
 */
export function isNews(w: Writer, section: number, train: number): boolean {
  const { heard } = w.section(section);
  const before = heard.find((each) => each.train === train);
  if (before?.near === true) return false;
  const near = adjoins(w, train, section);
  if (before === undefined) heard.push({ train, near });
  else if (!near) return false;
  else before.near = true;
  return true;
}

/** The section reads free, is not known any more or is let go: what is read in it from now on is new. */
export function readingEnds(w: Writer, section: number): void {
  w.section(section).heard = [];
  for (const { reads } of w.state.doubts) {
    for (const read of reads) if (read.section === section) read.goes = false;
  }
}
