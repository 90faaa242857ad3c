export { type Findable, findable, findIn, folded, rankIn } from "./find";
