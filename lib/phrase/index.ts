export { english, type Figure, figure, type Phrase, type PhraseValue, phrase } from "./phrase";
export { readBack } from "./readBack";
