/** All removals, drawn by weight. */
import { company } from "./company";
import { days } from "./days";
import { hops } from "./hops";
import type { Removal } from "./ruin";
import { sites } from "./sites";
import { strings } from "./strings";
import { worst } from "./worst";

export const REMOVALS: readonly Removal[] = [strings, hops, sites, days, worst, company];
