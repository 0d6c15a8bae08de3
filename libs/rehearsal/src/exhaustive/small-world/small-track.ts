import type { Layout, Piece } from '@blockbell/railway';

/** What meets a port: the port of another element, and the rail gaps in the joint. */
export interface Joint {
  readonly element: number;
  readonly port: string;
  readonly gaps: readonly { readonly zone: number; readonly polarity: string }[];
}

/** The track as the builder's file has it: which port meets which. Which ports meet is read from the file, not from routes. */
export class SmallTrack {
  readonly #joints = new Map<string, Joint>();

  constructor(readonly layout: Layout) {
    for (const [one, other] of layout.file.joins) {
      this.#join(one, other);
      this.#join(other, one);
    }
  }

  /** What lies beyond a port; null at the end of the track. */
  beyond(element: number, port: string): Joint | null {
    return this.#joints.get(`${this.layout.elements[element]!.id}.${port}`) ?? null;
  }

  /** The detected stretches of a leg in the order of travel, mm. */
  pieces(element: number, leg: number, along: boolean): readonly Piece[] {
    const { file, legs, sections } = this.layout.elements[element]!;
    if (file?.kind !== 'block') return [{ section: sections[0] ?? -1, length: legs[leg]!.length }];
    const parts = file.detection.map(({ section, length }) => ({
      section: section === null ? -1 : this.layout.sectionByName.get(section)!,
      length,
    }));
    return along ? parts : parts.reverse();
  }

  #join(from: string, to: string): void {
    const { element, port } = this.#port(to);
    const gaps = this.layout.elements.flatMap(({ index, reversing }) =>
      (reversing?.gaps ?? [])
        .filter((gap) => gap.port === from || gap.port === to)
        .map(({ polarity }) => ({ zone: index, polarity })),
    );
    this.#joints.set(from, { element, port, gaps });
  }

  #port(text: string): { element: number; port: string } {
    const dot = text.lastIndexOf('.');
    const element = this.layout.elementByName.get(text.slice(0, dot));
    if (element === undefined) throw new Error(`the layout was not validated: no port ${text}`);
    return { element, port: text.slice(dot + 1) };
  }
}
