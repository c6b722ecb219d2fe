"""The engineering equations, pure: called with numbers a number, called with cells a formula."""
