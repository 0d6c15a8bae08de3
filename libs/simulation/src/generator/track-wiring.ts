import type { BusId, DistrictId, SectionId } from '@blockbell/railway/track';

/** What a new section is connected to. */
export interface Wiring {
  readonly district: string;
  readonly bus: string;
  readonly detector: string;
}

/** A section as it will stand in the file. */
export interface WiredSection {
  readonly id: SectionId;
  readonly detector: string;
  readonly bus: BusId;
  readonly address: number;
  readonly district: DistrictId;
}

/** Numbers the inputs of every bus and the point motors, in the order in which they are asked for. */
export class WiringList {
  readonly sections: WiredSection[] = [];
  readonly #known = new Set<string>();
  readonly #lastInput = new Map<string, number>();
  #lastDrive = 0;

  /** The section of that name; wired at the next free input of its bus when it is new. */
  section(name: string, wiring: Wiring): SectionId {
    if (!this.#known.has(name)) {
      const address = (this.#lastInput.get(wiring.bus) ?? 0) + 1;
      this.#lastInput.set(wiring.bus, address);
      this.#known.add(name);
      this.sections.push({
        id: name as SectionId,
        detector: wiring.detector,
        bus: wiring.bus as BusId,
        address,
        district: wiring.district as DistrictId,
      });
    }
    return name as SectionId;
  }

  /** The next free address of a drive. */
  drive(): number {
    this.#lastDrive += 1;
    return this.#lastDrive;
  }
}
