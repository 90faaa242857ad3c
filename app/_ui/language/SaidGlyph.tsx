"use client";

import { Glyph, type GlyphProps } from "../Glyph";
import { useWords } from "./LanguageProvider";

/** A sign whose spoken name is said in the reader's language. */
export function SaidGlyph({ label, ...sign }: GlyphProps & { label: string }) {
  return <Glyph {...sign} label={useWords().t(label)} />;
}
