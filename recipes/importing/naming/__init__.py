"""What the words on an ingredient line mean: spelling, names by region, grades of flour."""
