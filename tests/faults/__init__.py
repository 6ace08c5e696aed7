"""Plants faults in a copy of the code, one at a time, and asks the tests to find each."""
