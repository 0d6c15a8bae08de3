import { filesToChooseFrom } from '@blockbell/contract/messages';
import { request } from '../people/requests.js';

export interface StoredTimetable {
  readonly hash: string;
  readonly name: string;
}

/** The timetables that the server keeps, the newest first; none where it can't be asked. */
export async function storedTimetables(): Promise<readonly StoredTimetable[]> {
  const asked = await request('GET', 'files', filesToChooseFrom);
  if (!asked.ok) return [];
  return asked.answer.filter(({ kind }) => kind === 'timetable').toReversed();
}
