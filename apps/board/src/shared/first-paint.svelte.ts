/**
 * Whether what is on the page since this was made has been painted: what is less urgent waits for that. To be made
 * while a component is.
 */
export class FirstPaint {
  done = $state(false);

  constructor() {
    $effect(() => {
      let timer: ReturnType<typeof setTimeout> | undefined;
      // The picture is painted after the callbacks of its frame; the next task comes after that.
      const request = requestAnimationFrame(() => {
        timer = setTimeout(() => (this.done = true));
      });
      return () => {
        cancelAnimationFrame(request);
        clearTimeout(timer);
      };
    });
  }
}
