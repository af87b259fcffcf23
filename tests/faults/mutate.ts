/** A seeded generator (mulberry32): the same seed gives the same faults on every machine. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** What hostile or broken files have been seen to hold. */
const POISON = [
  '1e999',
  '-1e999',
  'NaN',
  'null',
  '""',
  '{}',
  '[]',
  '"__proto__"',
  '{"__proto__":{"x":1}}',
  '"constructor"',
  '-0',
  '9007199254740993',
  '\u0000',
  '\ud800',
  '\u202e',
  '=cmd|x',
  '\r\n0\r\nEOF\r\n',
  '['.repeat(200),
  'true',
  ',',
  '}',
  ']',
];

type Mutator = (text: string, random: () => number) => string;
const at = (text: string, random: () => number): number => Math.floor(random() * (text.length + 1));

const MUTATORS: readonly Mutator[] = [
  (text, random) => text.slice(0, at(text, random)),
  (text, random) => {
    const from = at(text, random);
    return text.slice(0, from) + text.slice(from + 1 + Math.floor(random() * 20));
  },
  (text, random) => {
    const place = at(text, random);
    return text.slice(0, place) + POISON[Math.floor(random() * POISON.length)] + text.slice(place);
  },
  (text, random) => {
    const place = at(text, random);
    return text.slice(0, place) + String.fromCharCode(Math.floor(random() * 256)) + text.slice(place + 1);
  },
  (text, random) => {
    const [a, b] = [at(text, random), at(text, random)].sort((x, y) => x - y) as [number, number];
    return text.slice(0, b) + text.slice(a);
  },
  (text, random) => {
    const numbers = [...text.matchAll(/-?\d+(\.\d+)?/g)];
    const found = numbers[Math.floor(random() * numbers.length)];
    if (!found) return text;
    const poison = POISON[Math.floor(random() * 13)]!;
    return text.slice(0, found.index) + poison + text.slice(found.index + found[0].length);
  },
  (text, random) => {
    const words = [...text.matchAll(/"[^"]{1,40}"/g)];
    const found = words[Math.floor(random() * words.length)];
    const other = words[Math.floor(random() * words.length)];
    if (!found || !other) return text;
    return text.slice(0, found.index) + other[0] + text.slice(found.index + found[0].length);
  },
];

/** The text with one to three faults in it. */
export function mutate(text: string, random: () => number): string {
  let broken = text;
  const faults = 1 + Math.floor(random() * 3);
  for (let n = 0; n < faults; n++) broken = MUTATORS[Math.floor(random() * MUTATORS.length)]!(broken, random);
  return broken;
}
