/** The examples and the folders of this package in which their files lie. */
export const EXAMPLE_FOLDERS = {
  demo: 'vellin-valley',
  'passing-loop': 'passing-loop',
} as const;

export type ExampleName = keyof typeof EXAMPLE_FOLDERS;

/** Where a file of an example lies; the same from the sources and from the built program. */
export const fileUrl = (
  folder: string,
  file: 'layout' | 'stock' | 'timetable' | 'staging-rules',
): URL => new URL(`../${folder}/${file}.json`, import.meta.url);
