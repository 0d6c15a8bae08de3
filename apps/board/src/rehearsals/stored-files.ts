import { filesToChooseFrom } from '@blockbell/contract/messages';
import { request } from '../people/requests.js';

export interface StoredFile {
  readonly hash: string;
  readonly kind: string;
  readonly name: string;
}

/** The files that the server keeps, the newest first; none where it can't be asked. */
export async function storedFiles(): Promise<readonly StoredFile[]> {
  const asked = await request('GET', 'files', filesToChooseFrom);
  return asked.ok ? asked.answer.toReversed() : [];
}
