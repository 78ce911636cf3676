// Words of the guide for the calculator on its way.
const words = {/* words */};

/** What is said of each cause for which it could not start. */
export const CAUSES = words.causes;

/** What loading it takes, in words, and its `bytes`. */
export const LOADING = words.loading;
