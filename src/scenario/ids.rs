//! Typed ids and the vectors they index.

use std::marker::PhantomData;
use std::ops::{Index, IndexMut};

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);

        impl From<usize> for $name {
            fn from(index: usize) -> Self {
                Self(u32::try_from(index).expect("no list in a scenario holds 2^32 entries"))
            }
        }

        impl From<$name> for usize {
            fn from(id: $name) -> Self {
                id.0 as usize
            }
        }
    )*};
}

ids! {
    /// Which gear.
    GearId
    /// Which loose goods.
    LooseId
    /// Which material: what sheets or boards of one kind and thickness are made of.
    MaterialId
    /// Which stock item: a material in a size that can be had.
    StockId
    /// Which hardware.
    HardwareId
}

/// A vector that only its own id indexes.
#[derive(Debug, Clone, PartialEq)]
pub struct Keyed<K, T> {
    items: Vec<T>,
    key: PhantomData<K>,
}

impl<K: From<usize> + Copy, T> Keyed<K, T>
where
    usize: From<K>,
{
    /// An empty list.
    pub fn new() -> Self {
        Self { items: Vec::new(), key: PhantomData }
    }

    /// Appends `item` and returns its id.
    pub fn push(&mut self, item: T) -> K {
        self.items.push(item);
        K::from(self.items.len() - 1)
    }

    /// The item of `id`, if there is one.
    pub fn get(&self, id: K) -> Option<&T> {
        self.items.get(usize::from(id))
    }

    /// Every id with its item, in order.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (K, &T)> + Clone {
        self.items.iter().enumerate().map(|(index, item)| (K::from(index), item))
    }

    /// Every id, in order.
    pub fn ids(&self) -> impl DoubleEndedIterator<Item = K> + Clone + use<K, T> {
        (0..self.items.len()).map(K::from)
    }

    /// Every item, in order.
    pub fn values(&self) -> std::slice::Iter<'_, T> {
        self.items.iter()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.items.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.items.is_empty()
    }
}

impl<K: From<usize> + Copy, T> Default for Keyed<K, T>
where
    usize: From<K>,
{
    fn default() -> Self {
        Self::new()
    }
}

impl<K: From<usize> + Copy, T> FromIterator<T> for Keyed<K, T>
where
    usize: From<K>,
{
    fn from_iter<I: IntoIterator<Item = T>>(items: I) -> Self {
        Self { items: items.into_iter().collect(), key: PhantomData }
    }
}

/// # Panics
/// If the id belongs to another list: ids are only ever made by [`Keyed::push`] and [`Keyed::iter`].
impl<K, T> Index<K> for Keyed<K, T>
where
    usize: From<K>,
{
    type Output = T;
    fn index(&self, id: K) -> &T {
        &self.items[usize::from(id)]
    }
}

impl<K, T> IndexMut<K> for Keyed<K, T>
where
    usize: From<K>,
{
    fn index_mut(&mut self, id: K) -> &mut T {
        &mut self.items[usize::from(id)]
    }
}
