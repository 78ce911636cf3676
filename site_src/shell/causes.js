/** What is said of each cause for which the calculator could not start. */
export const CAUSES = {/* words */};
