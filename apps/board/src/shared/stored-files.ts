import { storedFilesAnswer, type StoredFileView } from '@blockbell/contract/messages';
import { request } from '../people/requests.js';

/** The files that the server keeps, the newest first; null where it can't be asked. */
export async function storedFiles(): Promise<readonly StoredFileView[] | null> {
  const asked = await request('GET', 'files', storedFilesAnswer);
  return asked.ok ? asked.answer.toReversed() : null;
}

/** Those of a kind that are for a layout: files for another one could only be refused. */
export const filesFor = (
  files: readonly StoredFileView[],
  kind: StoredFileView['kind'],
  layout: string,
): readonly StoredFileView[] => files.filter((it) => it.kind === kind && it.layout === layout);

/** What a file is chosen by: its name, and its hash, for other versions may bear the same name. */
export const fileChoice = ({ name, hash }: StoredFileView): string => `${name} (${hash})`;
