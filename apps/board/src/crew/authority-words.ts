import type { TrainView } from '@blockbell/contract/messages';

/** Less than this is a stand at the end of the way, mm. */
const AT_ITS_END = 20;

/** How far a train may run, for its crew; `head` in mm along its path, `nameOf` names an element. */
export function authorityWords(
  { path, mark }: Pick<TrainView, 'path' | 'mark'>,
  head: number,
  nameOf: (element: number) => string,
): string {
  const left = mark - head;
  if (left < AT_ITS_END) return 'No further: the way ahead is not set for it yet.';
  const end = path.find((item) => mark > item.start && mark <= item.end);
  const where = end === undefined ? '' : `, to ${nameOf(end.element)}`;
  return `${(left / 1000).toFixed(2)} m${where}.`;
}
