"""When everything happens: the hours of a class as a scheduling problem, and its plans.

`work` holds the problem and the plan, `greedy` and `exact` make plans, `bounds` says what no plan
can beat, `checking` verifies a plan independently, `class_work` turns a class into a problem, and
`verdict`, `ahead`, `remedies` and `drawing` read plans. `recovery` plans again from any minute.
"""
