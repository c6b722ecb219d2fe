"""The hole work: threads, fasteners, schedule, stops, cards, gauging."""
