//! Exact lengths, areas, volumes, masses and money, typed forces; parsing and showing them.
