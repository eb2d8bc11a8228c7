import { writeFileSync } from 'node:fs';
import { explainGuide } from '@curvewright/report';

writeFileSync(new URL('../../../shared/guides/faults-and-findings.md', import.meta.url), explainGuide());
