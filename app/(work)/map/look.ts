/** The page's colours as a canvas wants them: resolved, for the light or the dark theme that is on. */
const NAMES = [
  "ink", "quiet", "line", "edge", "surface", "raised", "sunk", "paper", "petrol", "petrol-wash", "ochre", "brick", "moss", "moss-wash", "plum", "steel", "steel-wash", "focus", "install", "on-install",
] as const; // biome-ignore format: a list of names

export type ColourName = (typeof NAMES)[number];
export interface Look {
  colours: Readonly<Record<ColourName, string>>;
  face: string;
}

/** Read from a passing element: the tokens themselves are `light-dark()` pairs. */
export function readLook(near: HTMLElement): Look {
  const probe = document.createElement("span");
  near.append(probe);
  const colours = Object.fromEntries(
    NAMES.map((name) => {
      probe.style.color = `var(--${name})`;
      return [name, getComputedStyle(probe).color];
    }),
  ) as Record<ColourName, string>;
  const face = getComputedStyle(probe).fontFamily;
  probe.remove();
  return { colours, face };
}

/** `var(--moss)` of the shared looks as the colour that it is now. */
export function resolved(look: Look, token: string): string {
  const name = token.match(/^var\(--([\w-]+)\)$/)?.[1] as ColourName | undefined;
  return (name && look.colours[name]) ?? look.colours.ink;
}
