export { alignRange, composeAlignment } from "./alignment";
export { ascentMin, ascentsFor, descentMin, pauseMin } from "./climb";
export { composeTasks, isGroundAssembled, liftOf } from "./compose";
export { type CriticalPath, criticalPath, pathProbability } from "./cpm";
export { crewNeeds } from "./crew";
export { atHeight, type HeightPoint, hoursAgainstHeight } from "./curve";
export {
  type ColdStep,
  DEFAULT_DERATING,
  type DeratingPolicy,
  type HeatStep,
  type Rest,
  restFactor,
  restFor,
} from "./derating";
export {
  DEFAULT_BUDGET,
  type EstimateOptions,
  estimateAlignment,
  estimateHours,
  QUICK_BUDGET,
  THOROUGH_BUDGET,
  totalWorkMin,
  workKey,
} from "./hours";
export {
  type CrewLearning,
  crawfordTotal,
  crawfordUnit,
  DEFAULT_LEARNING,
  type LearningPolicy,
  learningFactor,
  practiceFactor,
  wrightAverage,
  wrightTotal,
  wrightUnit,
} from "./learning";
export { normalCdf, normalQuantile } from "./normal";
export { DEFAULT_NORMS, fullNorms } from "./norms";
export { minutesOf, visitParts } from "./parts";
export { pertMeanMin, pertVarianceMin2 } from "./pert";
export { type Project, type ProjectBudget, type ProjectSolution, solveProject } from "./project";
export { retimedMin } from "./retime";
export { ACCEPTANCE_PARTS, type EndRemedy, REMEDY_PARTS } from "./returnVisits";
export { WORK_CLASSES_BY_DEMAND } from "./segments";
export type {
  AlignmentEnd,
  AlignmentModel,
  ClimbModel,
  CrewComposition,
  CrewNeeds,
  CrewShortfall,
  EndEstimate,
  EndTask,
  EndWork,
  HopWork,
  HourDriver,
  HourNorms,
  PerDriver,
  ScheduledTask,
  Skill,
  TaskTemplate,
  TemplateWhen,
  ThreePoint,
  WorkSegment,
} from "./types";
export { SKILLS } from "./types";
