export type * from "./types";
export { SKILLS } from "./types";
