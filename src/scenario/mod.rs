//! What is given: bed, gear, stock, shop, what may be chosen, aims.
