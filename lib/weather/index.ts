export type * from "./types";
export { WORK_CLASSES } from "./types";
