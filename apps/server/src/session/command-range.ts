import { blockOf, refusal, type Command, type Refusal, type World } from '@blockbell/railway';

/** Refuses a command that names a train, block or heading which the session doesn't have. */
export function refuseUnknown(world: World, command: Command): Refusal | null {
  if ('train' in command && world.stock.trains[command.train] === undefined)
    return unknown(`train ${command.train}`, `0 to ${world.stock.trains.length - 1}`);
  if ('block' in command && !isBlock(world, command.block))
    return unknown(`block ${command.block}`, 'numbers of blocks in the compiled layout');
  const { routes } = world.layout;
  if (command.kind === 'set-route' && command.route !== undefined && !routes[command.route])
    return unknown(`route ${command.route}`, `0 to ${routes.length - 1}`);
  if ('heading' in command && !isBlock(world, blockOf(command.heading)))
    return unknown(`heading ${command.heading}`, 'twice the number of a block, or one more');
  return null;
}

const isBlock = (world: World, element: number): boolean =>
  world.layout.elements[element]?.kind === 'block';

const unknown = (what: string, known: string): Refusal =>
  refusal('unknown-number', `There is no ${what} in this session; known are ${known}.`);
