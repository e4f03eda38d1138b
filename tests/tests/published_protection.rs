//! Protective devices and wires in a short, against breaking capacities, breaker classes, fusing currents and distances
//! as published.

use wattle_grammar::{
    kind::fuse_style,
    quantity::{Amps, Celsius, Seconds, Share, SquareMm, Volts},
};
use wattle_linter::{
    physics::{
        adiabatic::{aluminium_factor, factor, melting_time},
        conductor::awg_area,
        fuse::Style,
    },
    profile::DEFAULT,
};
use wattle_tests::table::{Table, entry, near, number, published_json};

type Outcome = Result<(), String>;

/// Blade fuses: makers' data, seen. Class T: from memory, and the lower end of its voltages. The glass tube: 35 A or ten
/// times the rating, whichever is greater (IEC 60127, seen), of which the smaller is taken for any rating.
#[test]
fn breaking_capacities() -> Outcome {
    let table = Table::published("fuse_breaking_capacity.csv")?;
    let row = |kind: &str| table.with("type", kind).next().ok_or_else(|| format!("no row {kind}"));
    for word in ["blade", "mini-blade"] {
        let style = fuse_style::by_word(word).ok_or(word)?;
        assert_eq!(style.breaking_capacity, Some(Amps(row("ATO/mini blade")?.number("ampere")?)));
        assert_eq!(row("ATO/mini blade")?.text("voltage")?, "32 VDC");
        assert_eq!(style.voltage, Some(Volts(32.0)));
    }
    let class_t = fuse_style::by_word("class-t").ok_or("class-t")?;
    assert_eq!(class_t.breaking_capacity, Some(Amps(row("Class T")?.number("ampere")?)));
    assert!(row("Class T")?.text("voltage")?.starts_with("125"));
    assert_eq!(class_t.voltage, Some(Volts(125.0)));
    assert!(row("IEC 60127 L")?.text("ampere")?.starts_with("35 or 10 x In"));
    let tube = fuse_style::by_word("cartridge").ok_or("cartridge")?;
    assert_eq!(tube.breaking_capacity, Some(Amps(35.0)));
    // Of bolted fuses makers differ, and the rows are from memory: nothing is taken.
    assert!(fuse_style::by_word("bolt-down").is_some_and(|style| style.breaking_capacity.is_none()));
    Ok(())
}

/// Interrupting rating of every blade fuse whose data sheet was read.
#[test]
fn blade_fuses_break_a_thousand_ampere() -> Outcome {
    for row in Table::published("blade_fuse_electrical.csv")?.rows {
        assert_eq!((row.number("interrupting_a")?, row.number("at_vdc")?), (1000.0, 32.0), "{row:?}");
    }
    Ok(())
}

/// What the limits let a blade fuse pass in a short pulse is on the careful sides of its published melting energy: 25 A,
/// 625 A²s (a maker's data sheet, seen).
#[test]
fn melting_energy_lies_between_the_limits() -> Outcome {
    let style = Style::by_word("mini-blade", None).ok_or("no style")?;
    let mut compared = 0;
    for row in Table::published("blade_fuse_electrical.csv")?.rows {
        let Some(melting) = row.maybe("i2t_a2s")? else { continue };
        let rated = Amps(row.number("rating_a")?);
        let least = style.least_energy(rated).ok_or("no least energy")?;
        let most = style.most_energy(rated, Amps(1000.0)).ok_or("no most energy")?;
        assert!(least.0 <= melting && melting <= most.0, "{row:?} {least:?} {most:?}");
        compared += 1;
    }
    assert_eq!(compared, 1);
    Ok(())
}

/// IEC 60898: carries 1.13 times for 1 h, trips within 1 h at 1.45 times; at once from 3 (B) to 20 times (D). From memory
/// but for 1.45.
#[test]
fn breaker_classes() -> Outcome {
    let table = Table::published("breaker_classes.csv")?;
    let statement = |class: &str| {
        let row = table.with("class", class).next().ok_or_else(|| format!("no row {class}"))?;
        row.text("statement").map(str::to_owned)
    };
    assert!(statement("IEC 60898 conventional")?.starts_with("1.13 In holds 1 h; 1.45 In trips within 1 h"));
    assert_eq!(statement("IEC 60898 B")?, "instantaneous 3..5 In");
    assert_eq!(statement("IEC 60898 D")?, "instantaneous 10..20 In");
    for word in ["thermal", "thermal-magnetic"] {
        let style = Style::by_word(word, None).ok_or(word)?;
        assert_eq!((style.carries(), style.opens()), (Some(Share(1.13)), Some(Share(1.45))), "{word}");
        let hour = style.opening(Amps(10.0), Amps(14.5)).and_then(|opening| opening.latest);
        assert_eq!(hour, Some(Seconds(3600.0)), "{word}");
    }
    let magnetic = Style::by_word("thermal-magnetic", None).ok_or("no style")?;
    assert_eq!(magnetic.instantaneous, Some((3.0, 20.0)));
    Ok(())
}

/// UL 248-14 tubes must have opened within 1 h at 1.35 and within 120 s at 2 times (seen); the bands here are those of
/// IEC 60127, which are wider, so that neither kind is taken for quicker than it is.
#[test]
fn tubes_are_not_taken_for_quicker_than_either_standard() -> Outcome {
    let style = Style::by_word("cartridge", Some("fast")).ok_or("no style")?;
    let mut compared = 0;
    for row in Table::published("cartridge_fuse_time_current.csv")?.rows {
        if !row.text("standard")?.starts_with("UL") {
            continue;
        }
        let opening = style.opening(Amps(1.0), Amps(row.number("percent")? / 100.0)).ok_or("no opening")?;
        match row.maybe("max_s")? {
            Some(most) => assert!(opening.latest.is_none_or(|latest| latest.0 >= most), "{row:?}"),
            None => assert_eq!(opening.latest, None, "{row:?}"),
        }
        compared += 1;
    }
    assert_eq!(compared, 3);
    Ok(())
}

/// ICEA P-32-382 (seen) has 224.1 for 226: its currents for 1 s within 1 %.
#[test]
fn one_second_currents_of_the_american_equation() -> Outcome {
    let table = Table::published("icea_p32_382.csv")?;
    assert_eq!(table.rows.len(), 10);
    for row in &table.rows {
        let area = row.number("cmil")? * 5.067_07e-4;
        let k = factor(Celsius(row.number("initial_c")?), Celsius(row.number("final_c")?));
        let amps = k.0 * area / row.number("seconds")?.sqrt();
        assert!(near(amps, row.number("ampere")?, 0.01), "{row:?} {amps}");
    }
    Ok(())
}

/// IEC 60949 for aluminium (seen): two decimals of the computed column.
#[test]
fn aluminium_stands_less() -> Outcome {
    for row in Table::published("adiabatic_k.csv")?.rows {
        let k = aluminium_factor(Celsius(row.number("initial_c")?), Celsius(row.number("final_c")?)).0;
        assert!((k - row.number("k_aluminium_computed")?).abs() <= 0.05, "{row:?} {k}");
    }
    Ok(())
}

/// Onderdonk: the published examples put right, and the column of currents, both within 1 % and the last digit.
#[test]
fn copper_melts_when_onderdonk_says() -> Outcome {
    let examples = published_json("onderdonk_examples.json")?;
    let list = &examples["examples"];
    let fourteen =
        list.as_array().and_then(|list| list.iter().find(|one| one["awg"] == 14)).ok_or("no 14")?;
    let area = SquareMm(number(fourteen, "cmil")? * 5.067_07e-4);
    let air = Celsius(number(fourteen, "t_ambient_c")?);
    let time = melting_time(area, Amps(number(fourteen, "ampere")?), air);
    assert!(near(time.0, number(fourteen, "correct")?, 0.01), "{time:?}");
    let sixteen = list.as_array().and_then(|list| list.iter().find(|one| one["awg"] == 16)).ok_or("no 16")?;
    let area = SquareMm(number(sixteen, "cmil")? * 5.067_07e-4);
    let time = melting_time(area, Amps(number(sixteen, "correct")?), air);
    assert!(near(time.0, number(sixteen, "seconds")?, 0.01), "{time:?}");
    for row in Table::published("fusing_currents_awg.csv")?.rows {
        let gauge: i32 = row.text("awg")?.parse().map_err(|_| "no gauge")?;
        for (column, seconds) in
            [("onderdonk_10s_a", 10.0), ("onderdonk_1s_a", 1.0), ("onderdonk_32ms_a", 0.032)]
        {
            let amps = row.number(column)?;
            let time = melting_time(awg_area(gauge), Amps(amps), Celsius(25.0));
            // Printed with one decimal.
            let rounding = 0.05 / amps;
            assert!(near((time.0 / seconds).sqrt(), 1.0, 0.01 + rounding), "{row:?} {column} {time:?}");
        }
    }
    Ok(())
}

/// 33 CFR 183.455 (seen): 7 and 40 inches; devices up to 150 % below 50 V.
#[test]
fn distances_and_shares_of_the_boat_rules() -> Outcome {
    let rules = published_json("cfr183_rules.json")?;
    let distances = entry(&rules["rules"], "section", "183.455(b)")?;
    let inches: Vec<f64> =
        distances["inches"].as_array().into_iter().flatten().filter_map(serde_json::Value::as_f64).collect();
    assert_eq!(inches.len(), 2);
    assert!((DEFAULT.bare_distance.0 - inches[0] * 0.0254).abs() < 1e-12);
    assert!((DEFAULT.sheathed_distance.0 - inches[1] * 0.0254).abs() < 1e-12);
    assert!(near(number(entry(&rules["rules"], "section", "183.455(c)(1)")?, "factor")?, 1.5, 1e-12));
    let voltage = entry(&rules["rules"], "section", "183.455(d)")?;
    assert!(voltage["fact"].as_str().is_some_and(|fact| fact.contains("voltage rating not less")));
    Ok(())
}
