const MARK = '[data-roving]';
const STEPS: Readonly<Record<string, number>> = {
  ArrowDown: 1,
  ArrowRight: 1,
  ArrowUp: -1,
  ArrowLeft: -1,
};

type Member = HTMLElement | SVGElement;

interface Way {
  /** The order that the keys follow; otherwise that of the page. */
  readonly order?: (a: Member, b: Member) => number;
  /** Told to which one the keys have gone. */
  readonly reached?: (member: Member) => void;
}

/**
 * One tab stop for a group of like things: the arrow keys move the focus among the descendants marked
 * `data-roving`, Home and End go to the first and the last.
 */
export function roving(group: Element, { order, reached }: Way = {}): { destroy: () => void } {
  const members = (): Member[] => {
    const all = [...group.querySelectorAll<Member>(MARK)];
    return order === undefined ? all : all.toSorted(order);
  };
  const makeStop = (stop: Element | undefined): void => {
    for (const member of members()) member.setAttribute('tabindex', member === stop ? '0' : '-1');
  };
  const keepOneStop = (): void => {
    const all = members();
    if (!all.some((member) => member.getAttribute('tabindex') === '0')) makeStop(all[0]);
  };
  const onFocus = (event: Event): void => {
    const member = (event.target as Element).closest(MARK);
    if (member) makeStop(member);
  };
  const onKey = (event: Event): void => {
    const { key } = event as KeyboardEvent;
    const all = members();
    const at = all.findIndex((member) => member === document.activeElement);
    const step = STEPS[key];
    const next =
      key === 'Home'
        ? all[0]
        : key === 'End'
          ? all.at(-1)
          : step && all[(at + step + all.length) % all.length];
    if (at < 0 || !next) return;
    event.preventDefault();
    event.stopPropagation();
    next.focus();
    reached?.(next);
  };
  // A drawing that listens for the focus would be a tab stop of its own in some browsers.
  if (group instanceof SVGElement) group.setAttribute('tabindex', '-1');
  const watcher = new MutationObserver(keepOneStop);
  watcher.observe(group, { childList: true, subtree: true });
  group.addEventListener('focusin', onFocus);
  group.addEventListener('keydown', onKey);
  keepOneStop();
  return {
    destroy: () => {
      watcher.disconnect();
      group.removeEventListener('focusin', onFocus);
      group.removeEventListener('keydown', onKey);
    },
  };
}
