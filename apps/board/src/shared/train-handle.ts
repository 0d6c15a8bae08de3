import type { Selection } from './selection.svelte.js';

/**
 * Makes an element a handle of a train, wherever the train is shown: a click, Enter or Space chooses it or lets go of it; a pointer or
 * the focus on it lights the train everywhere.
 */
export const trainHandle =
  (selection: Selection, train: number) =>
  (element: Element): (() => void) => {
    const light = (): void => {
      selection.pointed = train;
    };
    const leave = (): void => {
      selection.pointed = null;
    };
    const choose = (): void => selection.toggleTrain(train);
    const onKey = (event: Event): void => {
      const { key } = event as KeyboardEvent;
      // A button turns these keys into a click by itself.
      if (element instanceof HTMLButtonElement || (key !== 'Enter' && key !== ' ')) return;
      event.preventDefault();
      choose();
    };
    const listeners: readonly (readonly [string, (event: Event) => void])[] = [
      ['click', choose],
      ['keydown', onKey],
      ['pointerenter', light],
      ['pointerleave', leave],
      ['focus', light],
      ['blur', leave],
    ];
    for (const [kind, act] of listeners) element.addEventListener(kind, act);
    return () => {
      for (const [kind, act] of listeners) element.removeEventListener(kind, act);
    };
  };
