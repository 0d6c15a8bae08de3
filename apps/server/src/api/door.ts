import { BlockList, isIP } from 'node:net';
import { hostname, networkInterfaces } from 'node:os';
import type { Settings } from '../config/settings.js';

/** Who may come to the server at all, and under which names. */
export interface Door {
  /** Whether the server is known under this host name or address, in the form of a URL's host name. */
  answersTo(host: string): boolean;
  /** Whether a peer with this address is near enough to be heard. */
  hears(address: string | undefined): boolean;
  /** Whether a page must come from the very host and port it asks, not merely from this machine. */
  readonly ownPageOnly: boolean;
  /** The names it answers under, in words. */
  readonly names: string;
}

/** The network as this machine sees it. */
export interface Machine {
  readonly name: string;
  /** Of its interfaces, each with the network it is in: `192.168.1.5/24`. */
  networks(): readonly string[];
}

const LOOPBACK = ['127.0.0.1', 'localhost', '[::1]'];

/** For this machine only. */
export const LOOPBACK_DOOR: Door = {
  answersTo: (host) => LOOPBACK.includes(host),
  hears: () => true,
  ownPageOnly: false,
  names: '127.0.0.1, localhost or [::1]',
};

/**
 * For the local network: known under the machine's own name and addresses and those that the settings add, so that a name
 * of somebody else's that is made to lead here (DNS rebinding) is not answered. Addresses beyond the local network are
 * not heard, even if a router forwards them.
 */
export function networkDoor(added: readonly string[], machine: Machine): Door {
  const own = machine.name.toLowerCase();
  const names = new Set([
    ...LOOPBACK,
    own,
    `${own}.local`,
    ...added.map((name) => bracketed(name)),
  ]);
  return {
    answersTo: (host) => {
      const bare = host.replace(/\.$/, '');
      return (
        names.has(bare) || machine.networks().some((one) => bracketed(addressIn(one)) === bare)
      );
    },
    hears: (address) => address !== undefined && isNear(address, machine.networks()),
    ownPageOnly: true,
    names: `this machine’s own addresses, ${own}, ${own}.local${added.map((name) => `, ${name}`).join('')}`,
  };
}

/** The door that the settings ask for, on this machine. */
export const doorFor = ({ open, names }: Settings): Door =>
  open ? networkDoor(names, THIS_MACHINE) : LOOPBACK_DOOR;

export const THIS_MACHINE: Machine = {
  name: hostname(),
  networks: () =>
    Object.values(networkInterfaces()).flatMap((found) =>
      (found ?? []).flatMap(({ cidr }) => cidr ?? []),
    ),
};

export const addressIn = (network: string): string => network.slice(0, network.lastIndexOf('/'));

/** As a URL writes it: IPv6 in brackets. */
function bracketed(name: string): string {
  const plain = name.toLowerCase();
  return isIP(plain) === 6 ? new URL(`http://[${plain}]`).hostname : plain;
}

/**
 * Addresses that are never routed over the internet: RFC 1918 (private), RFC 3927 and RFC 4291 section 2.5.6 (link-local),
 * RFC 4193 (unique local), and loopback (RFC 1122, RFC 4291).
 */
const PRIVATE = [
  '127.0.0.0/8',
  '10.0.0.0/8',
  '172.16.0.0/12',
  '192.168.0.0/16',
  '169.254.0.0/16',
  '::1/128',
  'fe80::/10',
  'fc00::/7',
];

/** Private, or in a network that one of this machine's interfaces is in. */
function isNear(address: string, networks: readonly string[]): boolean {
  const list = new BlockList();
  for (const network of [...PRIVATE, ...networks]) {
    const at = addressIn(network);
    list.addSubnet(at, Number(network.slice(at.length + 1)), kindOf(at));
  }
  const plain = address.replace(/%.*$/, '');
  return isIP(plain) !== 0 && list.check(plain, kindOf(plain));
}

const kindOf = (address: string): 'ipv4' | 'ipv6' => (isIP(address) === 4 ? 'ipv4' : 'ipv6');
