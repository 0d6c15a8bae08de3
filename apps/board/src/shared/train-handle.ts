import type { Selection } from './selection.svelte.js';

type Handle = (element: Element) => () => void;

const made = new WeakMap<Selection, Map<number, Handle>>();

/**
 * Makes an element a handle of a train, wherever the train is shown: a click, Enter or Space chooses it or lets go of it; a pointer or
 * the focus on it lights the train everywhere.
 */
export function trainHandle(selection: Selection, train: number): Handle {
  // The same each time: another would be put on anew whenever the list around the element changes.
  const handles = made.get(selection) ?? new Map<number, Handle>();
  made.set(selection, handles);
  const handle = handles.get(train) ?? handleOf(selection, train);
  handles.set(train, handle);
  return handle;
}

const handleOf =
  (selection: Selection, train: number): Handle =>
  (element) => {
    let pointedHere = false;
    const light = (): void => {
      pointedHere = true;
      selection.pointed = train;
    };
    const leave = (): void => {
      pointedHere = false;
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
    // A drawing that listens for the focus would be a tab stop in some browsers, even where another element is.
    const holdsFocus = element instanceof HTMLElement || element.hasAttribute('tabindex');
    const listeners: readonly (readonly [string, (event: Event) => void])[] = [
      ['click', choose],
      ['pointerenter', light],
      ['pointerleave', leave],
      ...(holdsFocus
        ? ([
            ['keydown', onKey],
            ['focus', light],
            ['blur', leave],
          ] as const)
        : []),
    ];
    for (const [kind, act] of listeners) element.addEventListener(kind, act);
    return () => {
      for (const [kind, act] of listeners) element.removeEventListener(kind, act);
      // What is gone is neither pointed at nor left.
      if (pointedHere && selection.pointed === train) leave();
    };
  };
