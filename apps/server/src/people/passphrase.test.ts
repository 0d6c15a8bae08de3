import { expect, test } from 'vitest';
import { isPassphrase, secretOf } from './passphrase.js';

test('the passphrase is known again, another is not', async () => {
  const secret = await secretOf('late train to Pennick');
  expect(await isPassphrase('late train to Pennick', secret)).toBe(true);
  expect(await isPassphrase('late train to pennick', secret)).toBe(false);
  expect(await isPassphrase('', secret)).toBe(false);
});

test('two people with the same passphrase have different secrets, and neither holds it', async () => {
  const secrets = [await secretOf('signal box'), await secretOf('signal box')];
  expect(secrets[0]).not.toBe(secrets[1]);
  for (const secret of secrets) {
    expect(secret).not.toContain('signal box');
    expect(secret).not.toContain(Buffer.from('signal box').toString('base64'));
  }
});

test('an accent is the same however the keyboard writes it', async () => {
  const secret = await secretOf('caf\u00e9 wagon');
  expect(await isPassphrase('cafe\u0301 wagon', secret)).toBe(true);
});

// RFC 7914, section 12: scrypt("pleaseletmein", "SodiumChloride", 16384, 8, 1, 64).
test('it is scrypt as published', async () => {
  const key =
    '7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2' +
    'd5432955613f0fcf62d49705242a9af9e61e85dc0d651e40dfcf017b45575887';
  const secret = [
    'scrypt',
    16_384,
    8,
    1,
    Buffer.from('SodiumChloride').toString('base64'),
    Buffer.from(key, 'hex').toString('base64'),
  ].join('$');
  expect(await isPassphrase('pleaseletmein', secret)).toBe(true);
});
