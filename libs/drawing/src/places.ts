import type { Drawing, ElementFile, LayoutFile } from '@blockbell/railway';

/** Where elements stand on the drawing, by the elements' ids. */
export type Places = Readonly<Record<string, Drawing>>;

/** The layout with these places; what its file places stays where it is. */
export function withPlaces(file: LayoutFile, places: Places): LayoutFile {
  if (file.elements.every(({ draw }) => draw)) return file;
  const elements = file.elements.map((element): ElementFile => {
    const draw = places[element.id];
    return element.draw || !draw ? element : { ...element, draw };
  });
  return { ...file, elements };
}
