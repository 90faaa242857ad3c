/**
 * Minute of the day from which a crew is on site: its set-up comes before the work begins. Before midnight it is
 * negative. null = the visit has no place or no estimate.
 */
export const onSiteFromMin = (startMin: number | null, setupMin: number | null): number | null =>
  startMin === null || setupMin === null ? null : startMin - Math.ceil(setupMin);
