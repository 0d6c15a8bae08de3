import { cpus, release, totalmem, type } from 'node:os';

/** What the figures were measured on. */
export function machineText(): string {
  const processors = cpus();
  const model = processors[0]?.model.trim() ?? 'unknown processor';
  const memory = Math.round(totalmem() / 2 ** 30);
  return `Node ${process.versions.node}, ${processors.length} processors (${model}), ${memory} GiB, ${type()} ${release()}`;
}
