import { RUN_LINE_NAME } from "@/lib/programme";
import { ODU_ROLES } from "@/lib/site";
import { sayKept } from "./kept";
import type { Words } from "./words";

const NAMES = [RUN_LINE_NAME, ...ODU_ROLES];

/** What a line of a kit is: a run in the reader's language, an item as the catalogue names it. */
export const kitLineName = (name: string, words: Words): string => sayKept(name, NAMES, words);
