import { expect, test } from 'vitest';
import { refuseForeign } from './origin.js';

test.each(['127.0.0.1:4170', 'localhost:4170', '[::1]:4170', 'localhost'])(
  'answers under %s',
  (host) => {
    expect(refuseForeign({ host }, true)).toBeNull();
  },
);

// DNS rebinding: a name of the attacker's that resolves to 127.0.0.1 reaches the server under that name.
test.each(['trains.example:4170', '127.0.0.1.trains.example', '', 'user@127.0.0.1.example'])(
  'refuses to answer under “%s”, even to those who only read',
  (host) => {
    expect(refuseForeign({ host }, false)).toMatchObject({ code: 'foreign-host' });
  },
);

test('refuses to answer when no host is named', () => {
  expect(refuseForeign({}, false)).toMatchObject({ code: 'foreign-host' });
});

const host = '127.0.0.1:4170';

test.each(['http://127.0.0.1:4170', 'http://localhost:5173', 'http://[::1]:4170'])(
  'lets a page of this machine change things: %s',
  (origin) => {
    expect(refuseForeign({ host, origin }, true)).toBeNull();
  },
);

test.each(['https://trains.example', 'http://127.0.0.1.trains.example', 'null', 'file://', ''])(
  'refuses changes to a page of “%s”',
  (origin) => {
    expect(refuseForeign({ host, origin }, true)).toMatchObject({ code: 'foreign-origin' });
  },
);

test('refuses changes that a browser says come from another site, though it names no origin', () => {
  expect(refuseForeign({ host, 'sec-fetch-site': 'cross-site' }, true)).toMatchObject({
    code: 'foreign-origin',
  });
});

test('a program that is no browser names no origin and is let in', () => {
  expect(refuseForeign({ host }, true)).toBeNull();
});
