/** Why something asked for is not done now: a value a person can read, never an exception. */
export interface Refusal {
  /** Stable code for programs, in kebab-case. */
  readonly code: string;
  /** One sentence for a dispatcher, naming the place and what would mend it. */
  readonly text: string;
  /** The train that is in the way, where it is a train. */
  readonly train?: number;
}

export const refusal = (code: string, text: string, train?: number): Refusal =>
  train === undefined ? { code, text } : { code, text, train };
