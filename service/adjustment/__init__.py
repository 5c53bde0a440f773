"""From a prescription that hurts to the smallest changes that help: gate, candidates, stimulus, ranking."""
