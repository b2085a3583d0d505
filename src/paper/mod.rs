//! Drawings and tables as data, and their writers (SVG, CSV); no drawers here.
