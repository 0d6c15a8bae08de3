import { tick } from 'svelte';

/** What the page shows; kept in its address, so that it can be linked to and gone back from. */
export type Screen =
  | { readonly kind: 'run' }
  | { readonly kind: 'timetable' }
  | { readonly kind: 'staging' }
  | { readonly kind: 'trial' }
  | { readonly kind: 'rehearsals' }
  | { readonly kind: 'sessions' }
  | { readonly kind: 'people' }
  | { readonly kind: 'review'; readonly session: number };

export const RUN = '#/';
export const TIMETABLE = '#/timetable';
export const STAGING = '#/staging';
export const TRIAL = '#/trial';
export const REHEARSALS = '#/rehearsals';
export const SESSIONS = '#/sessions';
export const PEOPLE = '#/people';
export const reviewOf = (session: number): string => `${SESSIONS}/${session}`;

/** The screen that an address's hash names; what it doesn't know is the board. */
export function screenOf(hash: string): Screen {
  if (hash === TIMETABLE) return { kind: 'timetable' };
  if (hash === STAGING) return { kind: 'staging' };
  if (hash === TRIAL) return { kind: 'trial' };
  if (hash === REHEARSALS) return { kind: 'rehearsals' };
  if (hash === SESSIONS) return { kind: 'sessions' };
  if (hash === PEOPLE) return { kind: 'people' };
  const [, session] = /^#\/sessions\/(\d{1,9})$/.exec(hash) ?? [];
  return session === undefined ? { kind: 'run' } : { kind: 'review', session: Number(session) };
}

/** Goes to a screen of the page; resolves when it is there. */
export async function goTo(hash: string): Promise<void> {
  const gone = new Promise((resolve) =>
    window.addEventListener('hashchange', resolve, { once: true }),
  );
  location.hash = hash;
  await gone;
  await tick();
}

export class Screens {
  current = $state.raw(screenOf(location.hash));

  /** Follows the address until the returned function is called. */
  follow(): () => void {
    const read = (): void => {
      this.current = screenOf(location.hash);
    };
    window.addEventListener('hashchange', read);
    return () => window.removeEventListener('hashchange', read);
  }
}
