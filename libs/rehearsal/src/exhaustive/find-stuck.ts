/**
 * The first state from which none of the ends can be reached; null: from every state one can. `next`: by state, the states
 * that follow it. States that were not gone on with, but are no ends, have none.
 */
export function findStuck(
  next: readonly (readonly number[])[],
  ends: readonly number[],
): number | null {
  const before: number[][] = next.map(() => []);
  next.forEach((each, from) => {
    for (const to of each) before[to]!.push(from);
  });
  const comesHome = next.map(() => false);
  const open = [...ends];
  for (const end of ends) comesHome[end] = true;
  for (let state = open.pop(); state !== undefined; state = open.pop()) {
    for (const from of before[state]!) {
      if (comesHome[from]) continue;
      comesHome[from] = true;
      open.push(from);
    }
  }
  const stuck = comesHome.indexOf(false);
  return stuck < 0 ? null : stuck;
}
