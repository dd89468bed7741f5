"""A planner of what a youth basketball team is taught at which practice."""
