import type { Point } from './line.js';
import type { Viewport } from './viewport.svelte.js';

const KEY_STEP = 60;
const ZOOM_STEP = 1.3;
/** A pointer that moved less than this still clicks, pixels. */
const STILL = 5;

/** Lets wheel, pointers (drag, two fingers) and keys move and magnify what a viewport shows. */
export function moveView(
  picture: HTMLElement,
  viewport: Viewport,
): { update: (viewport: Viewport) => void; destroy: () => void } {
  let view = viewport;
  const pointers = new Map<number, Point>();
  let travelled = 0;

  const local = ({ clientX, clientY }: MouseEvent): Point => {
    const { left, top } = picture.getBoundingClientRect();
    return [clientX - left, clientY - top];
  };
  const spread = (): number => {
    const [one, other] = [...pointers.values()];
    return one && other ? Math.hypot(one[0] - other[0], one[1] - other[1]) : 0;
  };
  const onWheel = (event: WheelEvent): void => {
    event.preventDefault();
    view.zoom(Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0015)), local(event));
  };
  const onDown = (event: PointerEvent): void => {
    if (pointers.size === 0) travelled = 0;
    pointers.set(event.pointerId, local(event));
  };
  const onMove = (event: PointerEvent): void => {
    const before = pointers.get(event.pointerId);
    if (!before) return;
    const now = local(event);
    const [dx, dy] = [now[0] - before[0], now[1] - before[1]];
    travelled += Math.hypot(dx, dy);
    if (travelled < STILL) return;
    if (!picture.hasPointerCapture(event.pointerId)) picture.setPointerCapture(event.pointerId);
    const apart = spread();
    pointers.set(event.pointerId, now);
    if (pointers.size === 1) view.pan(dx, dy);
    else if (apart > 0) view.zoom(spread() / apart, middle(pointers));
  };
  const onUp = (event: PointerEvent): void => {
    pointers.delete(event.pointerId);
  };
  /** The end of a drag is no click on what lies under it. */
  const onClick = (event: MouseEvent): void => {
    if (travelled >= STILL) event.stopPropagation();
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = ACTIONS[event.key];
    if (!act) return;
    event.preventDefault();
    act(view);
  };
  picture.addEventListener('wheel', onWheel, { passive: false });
  picture.addEventListener('pointerdown', onDown);
  picture.addEventListener('pointermove', onMove);
  picture.addEventListener('pointerup', onUp);
  picture.addEventListener('pointercancel', onUp);
  picture.addEventListener('click', onClick, true);
  picture.addEventListener('keydown', onKey);
  return {
    update: (next) => (view = next),
    destroy: () => {
      picture.removeEventListener('wheel', onWheel);
      picture.removeEventListener('pointerdown', onDown);
      picture.removeEventListener('pointermove', onMove);
      picture.removeEventListener('pointerup', onUp);
      picture.removeEventListener('pointercancel', onUp);
      picture.removeEventListener('click', onClick, true);
      picture.removeEventListener('keydown', onKey);
    },
  };
}

const middle = (pointers: ReadonlyMap<number, Point>): Point => {
  const all = [...pointers.values()];
  const sum = all.reduce(([x, y], [px, py]) => [x + px, y + py] as const, [0, 0] as const);
  return [sum[0] / all.length, sum[1] / all.length];
};

const ACTIONS: Readonly<Record<string, (view: Viewport) => void>> = {
  ArrowLeft: (view) => view.pan(KEY_STEP, 0),
  ArrowRight: (view) => view.pan(-KEY_STEP, 0),
  ArrowUp: (view) => view.pan(0, KEY_STEP),
  ArrowDown: (view) => view.pan(0, -KEY_STEP),
  '+': (view) => view.zoom(ZOOM_STEP),
  '=': (view) => view.zoom(ZOOM_STEP),
  '-': (view) => view.zoom(1 / ZOOM_STEP),
  '0': (view) => view.fit(),
};
