import { recordingIndex, recordingPart, storedSessionList } from '@blockbell/contract/messages';
import type {
  RecordingIndex,
  RecordingPart,
  StoredSessionView,
} from '@blockbell/contract/messages';
import { refusalIn } from './refusal-in.js';

/** The stored sessions, newest first. All of these throw with a sentence that says why not. */
export const fetchSessions = (): Promise<StoredSessionView[]> =>
  fetched('/api/sessions', (body) => storedSessionList.parse(body));

export const fetchIndex = (session: number): Promise<RecordingIndex> =>
  fetched(`/api/sessions/${session}/recording`, (body) => recordingIndex.parse(body));

export const fetchPart = (session: number, part: number): Promise<RecordingPart> =>
  fetched(`/api/sessions/${session}/recording/${part}`, (body) => recordingPart.parse(body));

async function fetched<T>(address: string, parse: (body: unknown) => T): Promise<T> {
  const response = await ask(address);
  const body: unknown = await response.json();
  if (!response.ok) throw new Error(refusalIn(body));
  try {
    return parse(body);
  } catch {
    throw new Error('It was recorded by another version than this page: it can’t be shown.');
  }
}

async function ask(address: string): Promise<Response> {
  try {
    return await fetch(address, { headers: { accept: 'application/json' } });
  } catch {
    throw new Error('The server cannot be reached.');
  }
}
