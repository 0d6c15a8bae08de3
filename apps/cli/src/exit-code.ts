/** How the command line ends, for whoever calls it from a script. */
export const EXIT = {
  ok: 0,
  /** A fault in a file, a proof that fails, a violation, a service not run, a replay that differs, a target missed. */
  fault: 1,
  /** Called wrongly: an unknown command or option, a file that can't be read. */
  usage: 2,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Called wrongly; the message says how and what would be right. */
export class UsageError extends Error {}
