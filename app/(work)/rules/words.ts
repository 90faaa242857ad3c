import type { Skill } from "@/lib/hours";

export const SKILL_WORDS: Readonly<Record<Skill, string>> = {
  climber: "climbing",
  rescue: "rescue at height",
  ground: "ground work",
  rigger: "rigging and winch",
  technician: "radio work",
};
