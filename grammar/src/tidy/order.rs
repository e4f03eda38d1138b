//! The order of columns in a run of rows: the one in which every row's cells already stand.

use super::cell::Role;

/// What is known about the order of a run's columns.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Order {
    /// Of each role, the set of those that stand behind it in some row, directly or by way of others.
    behind: [u16; Role::COUNT],
    /// The roles that occur.
    present: u16,
}

const fn bit(role: Role) -> u16 {
    1 << role as u16
}

impl Order {
    /// Takes in a row. Gives whether that was possible: it is not if the row has two cells the other way round than the
    /// rows before it, which are then left as they were.
    pub(super) fn add(&mut self, row: impl Iterator<Item = Role> + Clone) -> bool {
        let mut seen = 0;
        for role in row.clone() {
            if self.behind(role) & seen != 0 {
                return false;
            }
            seen |= bit(role);
        }
        let mut before = 0;
        for role in row {
            for (first, behind) in Role::ALL.into_iter().zip(&mut self.behind) {
                if before & bit(first) != 0 {
                    *behind |= bit(role);
                }
            }
            before |= bit(role);
        }
        self.present |= seen;
        self.close();
        true
    }

    fn behind(&self, role: Role) -> u16 {
        self.behind.get(role as usize).copied().unwrap_or(0)
    }

    /// Draws the conclusions: what stands behind something that stands behind a role stands behind it too.
    fn close(&mut self) {
        for middle in Role::ALL {
            let further = self.behind(middle);
            for behind in &mut self.behind {
                if *behind & bit(middle) != 0 {
                    *behind |= further;
                }
            }
        }
    }

    /// The roles that occur, in the order of their columns.
    pub(super) fn columns(&self) -> impl Iterator<Item = Role> {
        let order = *self;
        let mut left = self.present;
        std::iter::from_fn(move || {
            let blocked = |role: Role| {
                Role::ALL
                    .into_iter()
                    .any(|other| left & bit(other) != 0 && order.behind(other) & bit(role) != 0)
            };
            let next = Role::ALL.into_iter().find(|role| left & bit(*role) != 0 && !blocked(*role))?;
            left &= !bit(next);
            Some(next)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Role::{At, Colour, Length, Name, Size};

    fn columns(order: &Order) -> Vec<Role> {
        order.columns().collect()
    }

    #[test]
    fn rows_that_leave_out_cells_share_one_order() {
        let mut order = Order::default();
        for row in [vec![Name, Colour], vec![Name, Colour, Length, Size], vec![Name, Length, At]] {
            assert!(order.add(row.into_iter()));
        }
        assert_eq!(columns(&order), [Name, Colour, Length, Size, At]);
    }

    #[test]
    fn a_row_the_other_way_round_is_refused_and_changes_nothing() {
        let mut order = Order::default();
        assert!(order.add([Name, Size, Colour].into_iter()));
        assert!(order.add([Name, Colour, Length].into_iter()));
        assert!(!order.add([Name, At, Length, Size].into_iter()));
        assert_eq!(columns(&order), [Name, Size, Colour, Length]);
    }

    #[test]
    fn where_the_rows_leave_it_open_size_stands_before_colour() {
        let mut order = Order::default();
        assert!(order.add([Name, Colour].into_iter()));
        assert!(order.add([Name, Size].into_iter()));
        assert_eq!(columns(&order), [Name, Size, Colour]);
    }
}
