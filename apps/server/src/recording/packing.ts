import { promisify } from 'node:util';
import { deflateRaw, inflateRaw } from 'node:zlib';

const squeeze = promisify(deflateRaw);
const unsqueeze = promisify(inflateRaw);

/** Compressed JSON; the work is done beside the thread that runs trains. */
export const packed = (text: string): Promise<Buffer> => squeeze(text);

export const unpacked = async (content: Buffer): Promise<string> =>
  (await unsqueeze(content)).toString('utf8');
