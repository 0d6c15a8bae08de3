import { whenIdle } from './when-idle.js';

/**
 * Whether what is on the page since this was made has been painted: what is less urgent waits for that. To be made
 * while a component is.
 */
export class FirstPaint {
  done = $state(false);

  constructor() {
    $effect(() => {
      let callOff: (() => void) | undefined;
      // The picture is painted after the callbacks of its frame; the page has nothing to do only after that.
      const request = requestAnimationFrame(() => {
        callOff = whenIdle(() => (this.done = true));
      });
      return () => {
        cancelAnimationFrame(request);
        callOff?.();
      };
    });
  }
}
