/** How long a page that is always busy may put it off, ms. */
const LATEST = 1000;
/** Where the browser doesn't tell when it has nothing to do, ms. */
const PAUSE = 100;

/** Does something when nothing else is to do; returns what calls it off. */
export function whenIdle(act: () => void): () => void {
  if (typeof requestIdleCallback === 'undefined') {
    const timer = setTimeout(act, PAUSE);
    return () => clearTimeout(timer);
  }
  const request = requestIdleCallback(act, { timeout: LATEST });
  return () => cancelIdleCallback(request);
}
