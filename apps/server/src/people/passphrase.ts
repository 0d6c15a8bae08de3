import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';

/**
 * What guessing costs: 32 MiB and about a tenth of a second on a small computer for each try. A step below what OWASP's Password
 * Storage Cheat Sheet asks of servers on the internet, so that a single-board computer can pay it too.
 */
const COST = { N: 2 ** 15, r: 8, p: 1 } as const;
const KEY_LENGTH = 32;
const SALT_LENGTH = 16;

/** Only one derivation at a time: each takes a thread that the database needs too. */
let last: Promise<unknown> = Promise.resolve();

/** What is kept of a passphrase: `scrypt$N$r$p$salt$key`, salt and key in base64. */
export async function secretOf(passphrase: string): Promise<string> {
  const salt = randomBytes(SALT_LENGTH);
  const key = await derive(passphrase, salt, COST, KEY_LENGTH);
  const { N, r, p } = COST;
  return ['scrypt', N, r, p, salt.toString('base64'), key.toString('base64')].join('$');
}

/** Whether this is the passphrase that the secret was made of; takes as long for a wrong one. */
export async function isPassphrase(passphrase: string, secret: string): Promise<boolean> {
  const [, N, r, p, salt = '', key = ''] = secret.split('$');
  const expected = Buffer.from(key, 'base64');
  const cost = { N: Number(N), r: Number(r), p: Number(p) };
  const found = await derive(passphrase, Buffer.from(salt, 'base64'), cost, expected.length);
  return timingSafeEqual(found, expected);
}

interface Cost {
  readonly N: number;
  readonly r: number;
  readonly p: number;
}

/** Keyboards write the same letters in different ways: NIST SP 800-63B, section 5.1.1.2, has them normalised first. */
function derive(passphrase: string, salt: Buffer, cost: Cost, length: number): Promise<Buffer> {
  const maxmem = 256 * cost.N * cost.r;
  const derived = last.then(
    () =>
      new Promise<Buffer>((resolve, reject) => {
        scrypt(passphrase.normalize('NFKC'), salt, length, { ...cost, maxmem }, (error, key) =>
          error === null ? resolve(key) : reject(error),
        );
      }),
  );
  last = derived.catch(() => undefined);
  return derived;
}
