export { english, type Figure, figure, type Phrase, type PhraseValue, phrase, shortFigure } from "./phrase";
export { readBack } from "./readBack";
