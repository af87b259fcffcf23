import { type Plan, planSchema } from '../plan';
import { schemaReason } from '../units';
import type { Report } from './geojson/report';

const MOST_ISSUES = 50;

/** The plan as its schema has it, or null where it breaks it; every break is reported with its path. */
export function checkedPlan(plan: Plan, report: Report): Plan | null {
  const checked = planSchema.safeParse(plan);
  if (checked.success) return checked.data;
  for (const issue of checked.error.issues.slice(0, MOST_ISSUES)) {
    const path = issue.path.map(String);
    report.add(
      'stop',
      'against-the-schema',
      { id: path[1] ?? '', path: path.join('.') },
      { text: schemaReason(issue) },
    );
  }
  return null;
}
