/** Where a command writes. Results go to `out`, everything about the run to `err`, so that results can be piped. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** Replaces the line of progress last shown, where a person watches; nothing elsewhere. */
  progress(text: string): void;
}

/** The terminal of this process. */
export function processTerminal(): Terminal {
  const watched = process.stderr.isTTY;
  let shown = false;
  const clear = (): void => {
    if (shown) process.stderr.write('\r\u001b[K');
    shown = false;
  };
  return {
    out: (text) => {
      clear();
      process.stdout.write(`${text}\n`);
    },
    err: (text) => {
      clear();
      process.stderr.write(`${text}\n`);
    },
    progress: (text) => {
      if (!watched) return;
      clear();
      process.stderr.write(text);
      shown = true;
    },
  };
}
