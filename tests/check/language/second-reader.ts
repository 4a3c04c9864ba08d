/** gcode-parser ships no types; this is the part of it that tests and benches use. The name is a variable so that no types are looked for. */
interface Parsed {
  readonly words: readonly (readonly [string, number])[];
}
const name: string = 'gcode-parser';
const library = (await import(name)) as { parseStringSync(text: string): readonly Parsed[] };

export const parseStringSync = library.parseStringSync;
