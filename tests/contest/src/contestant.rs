//! Each solver: analysis of the pattern, numeric factorisation, one solve.

use faer::{
    Side,
    linalg::solvers::Solve,
    sparse::{SparseColMat, Triplet, linalg::solvers},
};

use crate::{
    factor::Factor,
    matrix::Conductances,
    ordering::Elimination,
    time::{Times, quickest},
};

/// The linear part of Wattle's solver, as it stands in the linter's sources.
pub fn wattle(matrix: &Conductances, runs: usize) -> Times {
    let pairs: Vec<(u32, u32)> = matrix.edges.iter().map(|&(a, b, _)| (a, b)).collect();
    // Which slot an element adds to is part of the plan.
    let plan = || {
        let elimination = Elimination::new(matrix.nodes, &pairs);
        let slots: Vec<usize> = pairs.iter().filter_map(|&(a, b)| elimination.slot(a, b)).collect();
        (elimination, slots)
    };
    let (analysis, (elimination, slots)) = quickest(runs, plan);
    let mut factor = Factor::default();
    let (factorisation, _) = quickest(runs, || {
        factor.clear(&elimination);
        for (slot, edge) in slots.iter().zip(&matrix.edges) {
            factor.add(*slot, edge.2);
        }
        factor.factorise(&elimination)
    });
    let mut currents = vec![0.0; matrix.nodes];
    let (solve, volts) = quickest(runs, || {
        for (node, amps) in matrix.currents.iter().enumerate() {
            currents[elimination.position[node] as usize] = *amps;
        }
        factor.solve(&elimination, &mut currents);
        elimination.position.iter().map(|at| currents[*at as usize]).collect::<Vec<f64>>()
    });
    let entries = elimination.rows.len();
    Times { name: "wattle", analysis, factorisation, solve, entries, residual: matrix.residual(&volts) }
}

/// faer's Cholesky, which chooses between simplicial and supernodal by itself.
pub fn faer_cholesky(matrix: &Conductances, runs: usize) -> Times {
    let lower = faer_matrix(matrix, |row, column| row >= column);
    let (analysis, symbolic) =
        quickest(runs, || solvers::SymbolicLlt::try_new(lower.symbolic(), Side::Lower).ok());
    let symbolic = symbolic.unwrap_or_else(|| std::process::abort());
    let (factorisation, factor) = quickest(runs, || {
        solvers::Llt::try_new_with_symbolic(symbolic.clone(), lower.as_ref(), Side::Lower).ok()
    });
    let factor = factor.unwrap_or_else(|| std::process::abort());
    let right = faer::Col::from_fn(matrix.nodes - 1, |row| matrix.currents[row + 1]);
    let (solve, volts) = quickest(runs, || factor.solve(&right));
    let volts = grounded(volts.iter().copied());
    Times { name: "faer LLT", analysis, factorisation, solve, entries: 0, residual: matrix.residual(&volts) }
}

/// faer's LU.
pub fn faer_lu(matrix: &Conductances, runs: usize) -> Times {
    let whole = faer_matrix(matrix, |_, _| true);
    let (analysis, symbolic) = quickest(runs, || solvers::SymbolicLu::try_new(whole.symbolic()).ok());
    let symbolic = symbolic.unwrap_or_else(|| std::process::abort());
    let (factorisation, factor) =
        quickest(runs, || solvers::Lu::try_new_with_symbolic(symbolic.clone(), whole.as_ref()).ok());
    let factor = factor.unwrap_or_else(|| std::process::abort());
    let right = faer::Col::from_fn(matrix.nodes - 1, |row| matrix.currents[row + 1]);
    let (solve, volts) = quickest(runs, || factor.solve(&right));
    let volts = grounded(volts.iter().copied());
    Times { name: "faer LU", analysis, factorisation, solve, entries: 0, residual: matrix.residual(&volts) }
}

fn faer_matrix(matrix: &Conductances, wanted: impl Fn(usize, usize) -> bool) -> SparseColMat<usize, f64> {
    let mut triplets = Vec::new();
    for (column, rows) in matrix.columns().into_iter().enumerate() {
        let entries = rows.into_iter().filter(|(row, _)| wanted(*row, column));
        triplets.extend(entries.map(|(row, siemens)| Triplet::new(row, column, siemens)));
    }
    let size = matrix.nodes - 1;
    SparseColMat::try_new_from_triplets(size, size, &triplets).unwrap_or_else(|_| std::process::abort())
}

/// The up-looking LDLᵀ of `sprs-ldl` in the order of `amd`: its own order, reverse Cuthill–McKee, fills far more.
pub fn sprs_ldl(matrix: &Conductances, runs: usize) -> Times {
    let (starts, rows, values) = compressed(matrix);
    let size = matrix.nodes - 1;
    let csc = sprs::CsMat::new_csc((size, size), starts.clone(), rows.clone(), values);
    let (analysis, symbolic) = quickest(runs, || {
        let order = amd::order(size, &starts, &rows, &amd::Control::default());
        let (order, ..) = order.unwrap_or_else(|_| std::process::abort());
        let order = sprs::PermOwned::new(order);
        sprs_ldl::LdlSymbolic::new_perm(csc.view(), order, sprs::SymmetryCheck::DontCheckSymmetry)
    });
    let first = symbolic.clone().factor(csc.view());
    let mut numeric = first.unwrap_or_else(|_| std::process::abort());
    let (factorisation, _) = quickest(runs, || numeric.update(csc.view()).is_ok());
    let right = &matrix.currents[1..];
    let (solve, volts) = quickest(runs, || numeric.solve(right));
    let (entries, volts) = (numeric.nnz(), grounded(volts.into_iter()));
    Times {
        name: "sprs-ldl, AMD",
        analysis,
        factorisation,
        solve,
        entries,
        residual: matrix.residual(&volts),
    }
}

/// The Cholesky of `rsparse`, a port of the well-known teaching code for sparse direct methods.
pub fn rsparse(matrix: &Conductances, runs: usize) -> Times {
    let (starts, rows, values) = compressed(matrix);
    let size = matrix.nodes - 1;
    let whole = rsparse::data::Sprs {
        nzmax: rows.len(),
        m: size,
        n: size,
        p: starts.iter().map(|start| *start as isize).collect(),
        i: rows,
        x: values,
    };
    let (analysis, symbolic) = quickest(runs, || rsparse::schol(&whole, 0));
    let mut symbolic = symbolic;
    let (factorisation, factor) = quickest(runs, || rsparse::chol(&whole, &mut symbolic).ok());
    let factor = factor.unwrap_or_else(|| std::process::abort());
    let order: Vec<usize> = match &symbolic.pinv {
        Some(order) => order.iter().map(|at| *at as usize).collect(),
        None => (0..size).collect(),
    };
    let mut at_work = vec![0.0; size];
    let (solve, volts) = quickest(runs, || {
        for (row, at) in order.iter().enumerate() {
            at_work[*at] = matrix.currents[row + 1];
        }
        rsparse::lsolve(&factor.l, &mut at_work);
        rsparse::ltsolve(&factor.l, &mut at_work);
        order.iter().map(|at| at_work[*at]).collect::<Vec<f64>>()
    });
    let (entries, volts) = (factor.l.x.len(), grounded(volts.into_iter()));
    Times {
        name: "rsparse Cholesky",
        analysis,
        factorisation,
        solve,
        entries,
        residual: matrix.residual(&volts),
    }
}

/// KLU, the LU for circuits (compiled from its C sources by the package): refactorisation on a pivot order that is kept.
pub fn klu(matrix: &Conductances, runs: usize) -> Times {
    let columns = matrix.columns();
    let pattern: Vec<Vec<i32>> =
        columns.iter().map(|rows| rows.iter().map(|(row, _)| *row as i32).collect()).collect();
    let (analysis, spec) =
        quickest(runs, || klu_rs::KluMatrixSpec::<i32>::new(&pattern, klu_rs::KluSettings::new()));
    let mut lu = spec.create_matrix::<f64>().unwrap_or_else(|| std::process::abort());
    let values: Vec<f64> = columns.iter().flatten().map(|(_, siemens)| *siemens).collect();
    let load = |lu: &klu_rs::FixedKluMatrix<i32, f64>| {
        lu.data().iter().zip(&values).for_each(|(cell, siemens)| cell.set(*siemens));
    };
    load(&lu);
    lu.lu_factorize(None);
    let (factorisation, _) = quickest(runs, || {
        load(&lu);
        lu.lu_factorize(Some(0.0))
    });
    let (solve, volts) = quickest(runs, || {
        let mut volts = matrix.currents[1..].to_vec();
        lu.solve_linear_system(&mut volts);
        volts
    });
    let volts = grounded(volts.into_iter());
    Times { name: "KLU", analysis, factorisation, solve, entries: 0, residual: matrix.residual(&volts) }
}

/// Starts, rows and values of the whole matrix by columns.
fn compressed(matrix: &Conductances) -> (Vec<usize>, Vec<usize>, Vec<f64>) {
    let (mut starts, mut rows, mut values) = (vec![0], Vec::new(), Vec::new());
    for column in matrix.columns() {
        rows.extend(column.iter().map(|(row, _)| *row));
        values.extend(column.iter().map(|(_, siemens)| *siemens));
        starts.push(rows.len());
    }
    (starts, rows, values)
}

/// Voltages with that of ground before them.
fn grounded(volts: impl Iterator<Item = f64>) -> Vec<f64> {
    std::iter::once(0.0).chain(volts).collect()
}
