import type { CaseLeads } from '@curvewright/board';

/** How a case goes into the holes of a board, all seen from the component side with the printed flat towards the reader. */
export interface LeadFit {
  readonly how: 'as is' | 'turned' | 'crossed';
  /** Where the flat of the case looks: to the reader, as the print's, or to the back. */
  readonly flat: 'front' | 'back';
  /** The leads left to right as they come out of the case. */
  readonly standing: string;
  /** The lead that goes into each hole, left to right. */
  readonly inHoles: string;
  /** Leads that cross on their way and need a sleeve, left to right; none but for `crossed`. */
  readonly crossed: readonly string[];
}

/**
 * A case's leads left to right from the front, the flat towards the reader and the leads down. Tilted so that the leads come towards the
 * reader, the flat goes up and the order stays; with the flat down it is seen upside down, and the order runs the other way.
 */
export function frontOrder({ order, view }: CaseLeads): string {
  return view === 'below_flat_down' ? reversed(order) : order;
}

/** `holes`: the lead that each hole has to take, left to right; `front`: the same leads as the case has them from the front. */
export function leadFit(holes: string, front: string): LeadFit {
  const turnedRound = reversed(front);
  const [asIs, turned] = [movedLeads(front, holes), movedLeads(turnedRound, holes)];
  const isTurned = turned.length < asIs.length;
  const crossed = isTurned ? turned : asIs;
  return {
    how: crossed.length > 0 ? 'crossed' : isTurned ? 'turned' : 'as is',
    flat: isTurned ? 'back' : 'front',
    standing: isTurned ? turnedRound : front,
    inHoles: holes,
    crossed,
  };
}

function movedLeads(standing: string, holes: string): readonly string[] {
  return [...standing].filter((lead, n) => holes.charAt(n) !== lead);
}

function reversed(order: string): string {
  return [...order].reverse().join('');
}

/** In one sentence: `HN-D goes in turned by 180°, its flat to the back (C B E from the left)`. */
export function leadSentence(name: string, { how, flat, inHoles, crossed }: LeadFit): string {
  const order = [...inHoles].join(' ');
  switch (how) {
    case 'as is':
      return `${name} goes in as the print shows (${order} from the left)`;
    case 'turned':
      return `${name} goes in turned by 180°, its flat to the back (${order} from the left)`;
    case 'crossed': {
      const where = flat === 'front' ? 'as the print shows' : 'to the back';
      return `${name} goes in only with its leads ${crossed.join(' and ')} crossed, a sleeve over each, its flat ${where} (${order} from the left)`;
    }
  }
}
