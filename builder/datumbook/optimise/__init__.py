"""Choices that a solver makes: the least metal, the least set-over, the best pairs, the shortest
way.
"""
