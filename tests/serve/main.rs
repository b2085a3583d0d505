//! The page's server from end to end, over plain sockets: attacked, edited from two tabs, killed. How fast it is, `pace` tests.

mod attacks;
mod client;
mod designs;
mod document;
