// What a dispatcher does to a session of a running server, without a board.

/** How long anything may take on a busy machine, ms. */
const PATIENCE = 60_000;
const LOOK_AGAIN = 100;
/** Pace at which nobody needs to wait for a line-up. */
const FAST = 60;
/** Refusals of a start that time mends: an order in which every train finishes is looked for, drives are proven. */
const WAITS = new Set(['searching', 'being-proven']);

/** Sent with every request. */
const headers = { 'Content-Type': 'application/json' };

/**
 * From now on everything is done as who is signed in by this `Cookie` header.
 * @param {string} cookie
 */
export function actAs(cookie) {
  Object.assign(headers, { Cookie: cookie });
}

/**
 * Sends a message below /api/session in Robin's name; throws what it is refused with.
 * @param {string} address
 * @param {string} path
 * @param {object} message
 */
export async function tell(address, path, message) {
  const answer = await fetch(new URL(`api/session${path}`, address), {
    method: 'POST',
    headers,
    body: JSON.stringify({ by: 'Robin', ...message }),
  });
  if (answer.ok) return;
  const { refusal } = await answer.json();
  throw Object.assign(new Error(refusal.text), { code: refusal.code });
}

/**
 * @param {string} address
 * @param {import('@blockbell/contract').CommandMessage['command']} command
 */
export const command = (address, command) => tell(address, '/command', { command });

/**
 * @param {string} address
 * @param {number} pace
 */
export const setPace = (address, pace) => tell(address, '/pace', { pace });

/**
 * Everything a board sees.
 * @param {string} address
 * @returns {Promise<import('@blockbell/contract').SnapshotMessage>}
 */
export async function look(address) {
  const answer = await fetch(new URL('api/session', address), { headers });
  return await answer.json();
}

/**
 * Stops what runs and begins another session: an example by name, or the three files of one.
 * @param {string} address
 * @param {{ example: string } | { files: object }} on
 */
export async function beginSession(address, on = { example: 'demo' }) {
  const { rows } = await look(address);
  if (rows.session?.phase !== 'set-up') await command(address, { kind: 'cut-power' });
  await tell(address, '', on);
}

/**
 * Powers up and waits until detection has said its part; what is still open is for a person.
 * @param {string} address
 */
export async function askLineUp(address) {
  await setPace(address, FAST);
  await command(address, { kind: 'power-up' });
  await until('the line-up asks', async () => {
    const { rows } = await look(address);
    const { phase, why } = rows.session ?? {};
    const unheard = rows.lineUp?.some(
      ({ status }) => status === 'missing' || status === 'mismatch',
    );
    return phase === 'line-up' && why === null && !unheard;
  });
}

/**
 * From power-up to a session that runs at `pace`.
 * @param {string} address
 * @param {number} pace
 */
export async function runSession(address, pace) {
  await askLineUp(address);
  await confirmAndStart(address, pace);
}

/**
 * Confirms as listed whatever the line-up asks, starts, and goes on at `pace`.
 * @param {string} address
 * @param {number} pace
 */
export async function confirmAndStart(address, pace) {
  const { rows } = await look(address);
  for (const { train, heading, status } of rows.lineUp ?? [])
    if (status === 'ask') await command(address, { kind: 'confirm-place', train, heading });
  await until('the session starts', () =>
    command(address, { kind: 'start' }).then(
      () => true,
      (error) => {
        if (WAITS.has(error.code)) return false;
        throw error;
      },
    ),
  );
  await setPace(address, pace);
}

/**
 * Waits for something that comes with time.
 * @param {string} what
 * @param {() => Promise<boolean>} hasCome
 */
export async function until(what, hasCome) {
  for (const end = performance.now() + PATIENCE; performance.now() < end;) {
    if (await hasCome()) return;
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN));
  }
  throw new Error(`waited in vain until ${what}`);
}
