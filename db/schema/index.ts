/** All tables, as drizzle and the migrations see them. */
export * from "./auth";
export * from "./catalogue";
export * from "./count";
export * from "./crew";
export * from "./design";
export * from "./fault";
export * from "./job";
export * from "./photo";
export * from "./place";
export * from "./plan";
export * from "./planEdit";
export * from "./report";
export * from "./savedView";
export * from "./setting";
export * from "./spare";
export * from "./stock";
export * from "./weather";
