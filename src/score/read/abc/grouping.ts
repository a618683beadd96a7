/** Which voices share a staff and which staves are one part: %%score and %%staves. Source: ABC 2.1, section 11.1. */

/** Voices on one staff. */
export interface StaffGroup {
  readonly voices: readonly string[];
}

/** Staves that belong together: those in one brace, or a staff by itself. */
export interface Block {
  readonly staves: readonly StaffGroup[];
  readonly braced: boolean;
}

export interface Grouping {
  readonly blocks: readonly Block[];
  /** Whether the brackets open and close as they should. */
  readonly sound: boolean;
  /** Voices marked to move between staves. */
  readonly floating: readonly string[];
}

export const readGrouping = (text: string): Grouping => {
  const blocks: { staves: { voices: string[] }[]; braced: boolean }[] = [];
  const floating: string[] = [];
  const open: string[] = [];
  const seen = new Set<string>();
  let sound = true;
  let brace: { staves: { voices: string[] }[]; braced: boolean } | null = null;
  let staff: { voices: string[] } | null = null;
  let floats = false;
  for (const [token] of text.matchAll(/[()[\]{}|*]|[^()[\]{}|*\s]+/g)) {
    switch (token) {
      case '(':
      case '[':
      case '{':
        open.push(token);
        if (token === '(') staff = null;
        if (token === '{') {
          brace = { staves: [], braced: true };
          blocks.push(brace);
        }
        break;
      case ')':
      case ']':
      case '}':
        sound &&= open.pop() === { ')': '(', ']': '[', '}': '{' }[token];
        if (token === ')') staff = null;
        if (token === '}') brace = null;
        break;
      case '|':
        break;
      case '*':
        floats = true;
        break;
      default: {
        const id = token.slice(0, 20);
        if (seen.has(id)) sound = false;
        if (seen.has(id)) break;
        seen.add(id);
        if (floats) floating.push(id);
        const before: { voices: string[] } | undefined = brace?.staves.at(-1);
        if (floats && before !== undefined) before.voices.push(id);
        else if (staff !== null) staff.voices.push(id);
        else {
          const own = { voices: [id] };
          if (open.includes('(')) staff = own;
          if (brace === null) blocks.push({ staves: [own], braced: false });
          else brace.staves.push(own);
        }
        floats = false;
      }
    }
  }
  return {
    blocks: blocks.filter(({ staves }) => staves.length > 0),
    sound: sound && open.length === 0,
    floating,
  };
};
