const DOTS = '…';

/** A text of at most so many pixels: of a longer one both ends, for the last of it often tells it from others. */
export function shortened(text: string, room: number, measure: (text: string) => number): string {
  if (measure(text) <= room) return text;
  const letters = [...text];
  const keeping = (count: number): string =>
    [
      ...letters.slice(0, Math.ceil(count / 2)),
      DOTS,
      ...letters.slice(letters.length - Math.floor(count / 2)),
    ].join('');
  let [fits, tooLong] = [0, letters.length];
  while (tooLong - fits > 1) {
    const middle = (fits + tooLong) >> 1;
    if (measure(keeping(middle)) <= room) fits = middle;
    else tooLong = middle;
  }
  return keeping(fits);
}
