/**
 * Spoils plain data in place, in all its depth: numbers move, texts and flags turn, lists lose their order and their
 * last entry. Whoever still shares a part of it sees the difference. What is in `spared` stays whole.
 */
export function scramble(value: unknown, spared: ReadonlySet<object>): void {
  spoil(value, new Set(spared));
}

/** Every object and list that can be reached from plain data, itself included. */
export function partsOf(value: unknown, parts = new Set<object>()): Set<object> {
  if (typeof value !== 'object' || value === null || parts.has(value)) return parts;
  parts.add(value);
  for (const field of value instanceof Map ? value.values() : Object.values(value)) {
    partsOf(field, parts);
  }
  return parts;
}

function spoil(value: unknown, seen: Set<object>): void {
  if (typeof value !== 'object' || value === null || seen.has(value)) return;
  seen.add(value);
  const fields: Record<string, unknown> = value as Record<string, unknown>;
  for (const [name, field] of Object.entries(fields)) {
    if (typeof field === 'object') spoil(field, seen);
    else if (typeof field === 'number') fields[name] = -3 * field + 17;
    else if (typeof field === 'string') fields[name] = `not ${field}`;
    else if (typeof field === 'boolean') fields[name] = !field;
  }
  if (Array.isArray(value)) value.reverse().pop();
}
