import { describe, expect, test } from 'vitest';
import { LOOPBACK_DOOR, networkDoor, type Door } from './door.js';
import { refuseForeign } from './origin.js';

const refuse = (
  headers: Parameters<typeof refuseForeign>[0],
  changes: boolean,
  door: Door = LOOPBACK_DOOR,
) => refuseForeign(headers, changes, door);

test.each(['127.0.0.1:4170', 'localhost:4170', '[::1]:4170', 'localhost'])(
  'answers under %s',
  (host) => {
    expect(refuse({ host }, true)).toBeNull();
  },
);

// DNS rebinding: a name of the attacker's that resolves to 127.0.0.1 reaches the server under that name.
test.each(['trains.example:4170', '127.0.0.1.trains.example', '', 'user@127.0.0.1.example'])(
  'refuses to answer under “%s”, even to those who only read',
  (host) => {
    expect(refuse({ host }, false)).toMatchObject({ code: 'foreign-host' });
  },
);

test('refuses to answer when no host is named', () => {
  expect(refuse({}, false)).toMatchObject({ code: 'foreign-host' });
});

const host = '127.0.0.1:4170';

test.each(['http://127.0.0.1:4170', 'http://localhost:5173', 'http://[::1]:4170'])(
  'lets a page of this machine change things: %s',
  (origin) => {
    expect(refuse({ host, origin }, true)).toBeNull();
  },
);

test.each(['https://trains.example', 'http://127.0.0.1.trains.example', 'null', 'file://', ''])(
  'refuses changes to a page of “%s”',
  (origin) => {
    expect(refuse({ host, origin }, true)).toMatchObject({ code: 'foreign-origin' });
  },
);

test('refuses changes that a browser says come from another site, though it names no origin', () => {
  expect(refuse({ host, 'sec-fetch-site': 'cross-site' }, true)).toMatchObject({
    code: 'foreign-origin',
  });
});

test('a program that is no browser names no origin and is let in', () => {
  expect(refuse({ host }, true)).toBeNull();
});

describe('where the network is open', () => {
  const networks = ['192.168.7.20/24', 'fd12:3456::20/64', '127.0.0.1/8', '::1/128'];
  const door = networkDoor(['layout.club', '10.9.8.7'], {
    name: 'Signalbox',
    networks: () => networks,
  });

  test.each([
    '192.168.7.20:4170',
    '[fd12:3456::20]:4170',
    'signalbox:4170',
    'SIGNALBOX.local:4170',
    'signalbox.local.',
    'layout.club',
    '10.9.8.7:4170',
    'localhost:4170',
  ])('answers under %s', (host) => {
    expect(refuse({ host }, false, door)).toBeNull();
    expect(refuse({ host, origin: `http://${host}` }, true, door)).toBeNull();
  });

  // DNS rebinding: a name of the attacker's that resolves to this machine's address in the local network.
  test.each([
    'trains.example:4170',
    '192.168.7.20.trains.example',
    'signalbox.trains.example',
    '192.168.7.21',
    '',
  ])('refuses to answer under “%s”', (host) => {
    expect(refuse({ host, origin: `http://${host}` }, false, door)).toMatchObject({
      code: 'foreign-host',
    });
  });

  test.each([
    ['another site', 'https://trains.example'],
    ['another machine of the network', 'http://192.168.7.21:4170'],
    ['another port of this machine, to which its cookie goes too', 'http://192.168.7.20:8080'],
    ['another name of this machine', 'http://signalbox:4170'],
    ['nowhere', 'null'],
  ])('refuses changes to a page of %s', (_, origin) => {
    expect(refuse({ host: '192.168.7.20:4170', origin }, true, door)).toMatchObject({
      code: 'foreign-origin',
    });
  });

  test('a port that goes without saying is the same port', () => {
    expect(refuse({ host: 'layout.club', origin: 'http://layout.club' }, true, door)).toBeNull();
    expect(refuse({ host: 'layout.club:80', origin: 'http://layout.club' }, true, door)).toBeNull();
    expect(
      refuse({ host: 'layout.club:443', origin: 'https://layout.club' }, true, door),
    ).toBeNull();
  });

  test('refuses what a browser says comes from another port or site, though it names no origin', () => {
    for (const site of ['cross-site', 'same-site'])
      expect(refuse({ host: 'signalbox', 'sec-fetch-site': site }, true, door)).toMatchObject({
        code: 'foreign-origin',
      });
    expect(refuse({ host: 'signalbox', 'sec-fetch-site': 'same-origin' }, true, door)).toBeNull();
  });

  test.each([
    '192.168.7.31',
    '::ffff:192.168.7.31',
    'fd12:3456::31',
    'fe80::1%eth0',
    '10.1.2.3',
    '127.0.0.1',
  ])('hears %s', (address) => {
    expect(door.hears(address)).toBe(true);
  });

  // Addresses for documentation: RFC 5737 and RFC 3849.
  test.each(['203.0.113.9', '::ffff:203.0.113.9', '2001:db8::9', '', undefined])(
    'does not hear %s, whatever a router forwards',
    (address) => {
      expect(door.hears(address)).toBe(false);
    },
  );

  test('hears a neighbour in a network with public addresses', () => {
    networks.push('2001:db8:1:2::20/64');
    expect(door.hears('2001:db8:1:2::31')).toBe(true);
    expect(door.hears('2001:db8:1:3::31')).toBe(false);
  });
});
