import { performance } from 'node:perf_hooks';

/** Where a command writes. Results go to `out`, everything about the run to `err`, so that results can be piped. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** Replaces the line of progress last shown, where a person watches; a line now and then elsewhere. */
  progress(text: string): void;
}

/** How often progress is written where nobody watches, wall-clock ms. */
const LINE_EVERY = 10_000;

/** The terminal of this process. */
export function processTerminal(): Terminal {
  const watched = process.stderr.isTTY;
  let shown = false;
  let lastLine = performance.now();
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
      if (!watched) {
        if (performance.now() - lastLine < LINE_EVERY) return;
        lastLine = performance.now();
        process.stderr.write(`${text}\n`);
        return;
      }
      clear();
      process.stderr.write(text);
      shown = true;
    },
  };
}
