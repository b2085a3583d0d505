//! The page's server from end to end, over plain sockets: attacked, edited from two tabs, loaded, killed.

mod attacks;
mod client;
mod designs;
mod document;
mod load;
