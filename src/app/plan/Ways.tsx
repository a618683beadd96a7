/** The ways from the margin to plan and journal. */
import { Word } from '../shelf/Fields.tsx';
import { useWords } from '../words/context.ts';

/** Pages of their own by the browser's address, so that its way back leads from them. */
export const pagesOfPlan = { plan: '#plan', journal: '#journal' } as const;

export const PlanWays = () => {
  const { letting } = useWords();
  return (
    <p class="plan-ways">
      <Word words={letting.plan.title} onPress={() => (location.hash = pagesOfPlan.plan)} />
      <Word words={letting.journal.title} onPress={() => (location.hash = pagesOfPlan.journal)} />
    </p>
  );
};
