import { InvalidArgumentError } from 'commander';

/** A fault as it stands in a file of faults, not yet checked. */
export type WrittenFault = Readonly<Record<string, unknown>>;

const SHAPE = /^([a-z-]+)@(\d+)(?::(.+))?$/;
const AT_ONCE = ['lost-cars', 'cars-lifted', 'coupled', 'hand-moved'];
const NUMBERS = ['duration', 'by', 'permille', 'speed', 'length'];

/**
 * A fault from its short form, `kind@ms:field=value,field=value`, for example `stall@60000:train=goods,duration=20000`.
 * Fields are those of a file of faults; an address is written `short:3`, a place `block.a` with the end the front
 * looks to. Without a duration a fault lasts to the end.
 */
export function faultFromOption(text: string): WrittenFault {
  const [, kind, at, fields = ''] = SHAPE.exec(text) ?? [];
  if (kind === undefined) {
    throw new InvalidArgumentError('Write it as kind@ms:field=value,field=value.');
  }
  const lasting = AT_ONCE.includes(kind) ? {} : { duration: null };
  const written = fields.split(',').filter((field) => field !== '');
  return {
    kind,
    at: Number(at),
    ...lasting,
    ...Object.fromEntries(written.map((field) => fieldOf(field))),
  };
}

function fieldOf(text: string): [string, unknown] {
  const split = text.indexOf('=');
  if (split < 1) throw new InvalidArgumentError(`“${text}” is no field=value.`);
  const name = text.slice(0, split);
  return [name, valueOf(name, text.slice(split + 1))];
}

function valueOf(name: string, text: string): unknown {
  if (text === 'null') return null;
  if (name === 'address' || name === 'as') {
    const [kind, number] = text.split(':');
    return { kind, number: Number(number) };
  }
  if (name === 'to') {
    const split = text.lastIndexOf('.');
    return { block: text.slice(0, split), towards: text.slice(split + 1) };
  }
  return NUMBERS.includes(name) && /^-?\d+$/.test(text) ? Number(text) : text;
}
