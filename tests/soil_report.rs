#![cfg(not(target_arch = "wasm32"))]
//! Reports of laboratories, the fizz and crumbs in water: what they come to, and what nonsense does.

mod support;

use barrowmix::chemistry::amounts::{OrganicMethod, Slice};
use barrowmix::chemistry::exchange::{Buffer, Cation};
use barrowmix::chemistry::gypsum::Reason;
use barrowmix::chemistry::reaction::ShakenIn;
use barrowmix::chemistry::sodicity::{MagnesiumCase, SaltClass, SodiumClass};
use barrowmix::figure::Figure;
use barrowmix::ground::dispersion::{Dispersion, DispersionFault, Fizz, Milkiness, index};
use barrowmix::ground::report::{
    CationUnit, EcMethod, Extractant, Field, Finding, Read, Report, paste_of_1to1_ds_m, read,
};
use barrowmix::ground::{Trait, Traits};
use barrowmix::texture::Class;
use barrowmix::words::{METRIC, finding_text, written_text};
use proptest::prelude::{Strategy, any, prop_assert, prop_oneof, proptest};
use support::{assert_close, assert_relative};

/// A silty clay of which nothing else is known.
fn clay() -> Traits {
    let mut ground = Traits::NONE;
    for (of, pct) in [
        (Trait::Sand, 10.0),
        (Trait::Silt, 45.0),
        (Trait::Clay, 45.0),
    ] {
        ground.set(of, Some(Figure::exact(pct)));
    }
    ground
}

fn typical(read: &Read, of: Trait) -> f64 {
    read.figure(of)
        .unwrap_or_else(|| panic!("{of:?} is written: {read:?}"))
        .typical
}

fn tells(read: &Read, is: impl Fn(&Finding) -> bool) -> bool {
    read.findings.iter().any(is)
}

/// Ca 3600, Mg 450, K 200, Na 46 ppm.
fn in_ppm() -> Report {
    Report {
        ph: Some(6.8),
        cec: Some(26.0),
        cations: [Some(3600.0), Some(450.0), Some(200.0), Some(46.0), None],
        ..Report::EMPTY
    }
}

#[test]
fn a_report_in_ppm_becomes_shares() {
    let read = read(&in_ppm(), &clay());
    assert_eq!(typical(&read, Trait::Ph), 6.8, "as printed");
    assert_eq!(typical(&read, Trait::Cec), 26.0, "as printed");
    // 3600/200.39, 450/121.525, 200/390.98 and 46/229.90 of 26.
    for (of, pct) in [
        (Trait::CalciumShare, 69.10),
        (Trait::MagnesiumShare, 14.24),
        (Trait::PotassiumShare, 1.967),
        (Trait::SodiumShare, 0.7696),
    ] {
        assert_relative(typical(&read, of), pct, 1e-3, of.name());
    }
    assert!(
        tells(&read, |found| matches!(
            found,
            Finding::Sodium {
                class: SodiumClass::Low,
                reason: Reason::NoneNeeded,
                salt: None,
                ..
            }
        )),
        "no reason for gypsum: {read:?}"
    );
    assert!(
        !tells(&read, |found| matches!(found, Finding::FreeLime { .. })),
        "no lime at 6.8"
    );
}

#[test]
fn every_unit_comes_to_the_same() {
    let ppm = read(&in_ppm(), &clay());
    let base = in_ppm();
    let each = |of: fn(Cation, f64) -> f64| {
        let mut cations = base.cations;
        for (cell, cation) in cations.iter_mut().zip(Cation::ALL) {
            *cell = cell.map(|value| of(cation, value));
        }
        cations
    };
    let depth_m = 20.0 / 3.0 * 0.0254;
    for (what, cations, unit) in [
        (
            "pounds",
            each(|_, ppm| 2.0 * ppm),
            CationUnit::PoundsPerAcre { depth_m },
        ),
        (
            "pounds of a deeper layer",
            each(|_, ppm| 4.0 * ppm),
            CationUnit::PoundsPerAcre {
                depth_m: 2.0 * depth_m,
            },
        ),
        ("meq", each(|of, ppm| of.cmol_of_ppm(ppm)), CationUnit::Meq),
        (
            "shares",
            each(|of, ppm| of.cmol_of_ppm(ppm) / 26.0 * 100.0),
            CationUnit::Share,
        ),
    ] {
        let other = read(
            &Report {
                cations,
                unit,
                ..base
            },
            &clay(),
        );
        for of in [
            Trait::CalciumShare,
            Trait::MagnesiumShare,
            Trait::PotassiumShare,
            Trait::SodiumShare,
        ] {
            assert_relative(
                typical(&other, of),
                typical(&ppm, of),
                5e-4,
                &format!("{what}: {}", of.name()),
            );
        }
    }
}

#[test]
fn a_capacity_is_summed_and_said_to_be() {
    // As Clemson prints it: 2.40 of acidity, 3.83 in all.
    let report = Report {
        ph: Some(5.2),
        buffer_ph: Some(7.70),
        buffer: Buffer::FromEight,
        cations: [Some(400.0), Some(28.0), Some(221.0), Some(12.0), None],
        unit: CationUnit::PoundsPerAcre {
            depth_m: Slice::furrow().depth_m,
        },
        ..Report::EMPTY
    };
    let found = read(&report, &clay());
    assert_close(typical(&found, Trait::Cec), 3.83, 0.02, "the sum");
    assert!(
        tells(&found, |found| matches!(
            found,
            Finding::SummedCapacity { acidity_cmol_kg, .. } if (acidity_cmol_kg - 2.4).abs() < 1e-9
        )),
        "{found:?}"
    );
    // Without the buffer nobody knows the acidity of a sour soil.
    let found = read(
        &Report {
            buffer_ph: None,
            ..report
        },
        &clay(),
    );
    assert_eq!(found.figure(Trait::Cec), None, "{found:?}");
    assert!(
        tells(&found, |found| *found == Finding::NoCapacity),
        "{found:?}"
    );
    // A capacity that is known already serves.
    let mut known = clay();
    known.set(Trait::Cec, Some(Figure::exact(5.0)));
    let found = read(
        &Report {
            buffer_ph: None,
            ..report
        },
        &known,
    );
    assert!(found.figure(Trait::CalciumShare).is_some(), "{found:?}");
    // A buffer above its start finds none.
    let found = read(
        &Report {
            ph: Some(7.0),
            buffer: Buffer::FromSeven,
            buffer_ph: Some(7.2),
            ..report
        },
        &clay(),
    );
    assert!(
        tells(&found, |found| *found
            == Finding::NoAcidity { start_ph: 7.0 }),
        "{found:?}"
    );
}

#[test]
fn free_lime_is_flagged_and_widens() {
    let report = Report {
        ph: Some(7.9),
        cec: None,
        fizz: Some(Fizz::Strong),
        ..in_ppm()
    };
    let found = read(&report, &clay());
    assert!(
        tells(&found, |found| *found
            == Finding::FreeLime {
                known: true,
                widened: true
            }),
        "{found:?}"
    );
    let figure = |of| found.figure(of).expect("it is written");
    let sodium = figure(Trait::SodiumShare);
    assert!(
        sodium.ends().high > 1.5 * sodium.typical,
        "sodium may be more: {sodium:?}"
    );
    assert!(figure(Trait::CalciumShare).ends().low < figure(Trait::CalciumShare).typical);
    assert!(figure(Trait::Cec).ends().low < 0.7 * figure(Trait::Cec).typical);
    let carbonate = figure(Trait::Carbonate);
    assert_eq!(
        (carbonate.ends().low, carbonate.ends().high),
        (2.0, 15.0),
        "of many bubbles"
    );
    // What is not known is asked about by the reaction alone.
    let found = read(
        &Report {
            ph: Some(7.4),
            ..in_ppm()
        },
        &clay(),
    );
    assert!(
        tells(&found, |found| *found
            == Finding::FreeLime {
                known: false,
                widened: false
            }),
        "{found:?}"
    );
    let found = read(
        &Report {
            ph: Some(5.5),
            carbonate: Some(3.0),
            ..Report::EMPTY
        },
        &clay(),
    );
    assert!(
        tells(&found, |found| matches!(found, Finding::LimeInAcid { .. })),
        "{found:?}"
    );
    for (fizz, pct) in Fizz::ALL.into_iter().zip([0.0, 1.0, 5.0]) {
        assert_eq!(fizz.carbonate_pct().typical, pct, "{fizz:?}");
    }
}

#[test]
fn shares_that_do_not_sum_are_told_and_left_out() {
    let of = |cations| {
        read(
            &Report {
                unit: CationUnit::Share,
                cations,
                ..Report::EMPTY
            },
            &clay(),
        )
    };
    let whole = of([Some(68.0), Some(18.0), Some(3.0), Some(2.0), Some(9.0)]);
    assert_eq!(typical(&whole, Trait::CalciumShare), 68.0, "as printed");
    let rounded = of([Some(68.0), Some(19.0), Some(3.0), Some(2.0), Some(9.0)]);
    assert_eq!(typical(&rounded, Trait::MagnesiumShare), 19.0, "rounding");
    for (cations, sum) in [
        (
            [Some(68.0), Some(28.0), Some(3.0), Some(2.0), Some(9.0)],
            110.0,
        ),
        (
            [Some(58.0), Some(18.0), Some(3.0), Some(2.0), Some(9.0)],
            90.0,
        ),
        ([Some(90.0), Some(28.0), None, None, None], 118.0),
    ] {
        let found = of(cations);
        assert!(
            tells(&found, |found| *found
                == Finding::SharesDoNotSum { sum_pct: sum }),
            "{found:?}"
        );
        assert!(found.traits.is_empty(), "nothing is written: {found:?}");
    }
    // Without the acidity less than all is no fault.
    let found = of([Some(50.0), Some(18.0), Some(3.0), Some(2.0), None]);
    assert_eq!(typical(&found, Trait::SodiumShare), 2.0, "{found:?}");
}

#[test]
fn units_that_look_wrong_are_asked_about_and_not_changed() {
    // Pounds on an acre, read as ppm, are twice the capacity.
    let twice = Report {
        cations: in_ppm().cations.map(|value| value.map(|value| 2.2 * value)),
        ..in_ppm()
    };
    let found = read(&twice, &clay());
    assert!(
        tells(&found, |found| *found == Finding::PerhapsPoundsPerAcre),
        "{found:?}"
    );
    assert!(
        tells(&found, |found| matches!(
            found,
            Finding::OverCapacity { written: false, .. }
        )),
        "{found:?}"
    );
    assert_eq!(found.figure(Trait::SodiumShare), None, "no guess");
    // And the other way round where the acidity is known to be none.
    let half = Report {
        ph: Some(7.1),
        cec: Some(44.0),
        unit: CationUnit::PoundsPerAcre {
            depth_m: Slice::furrow().depth_m,
        },
        cations: in_ppm().cations.map(|value| value.map(|value| 2.0 * value)),
        ..in_ppm()
    };
    let found = read(&half, &clay());
    assert!(
        tells(&found, |found| *found == Finding::PerhapsPpm),
        "{found:?}"
    );
    assert!(found.figure(Trait::SodiumShare).is_some(), "as typed");
    for (ec, in_us, perhaps, stored) in [
        (250.0_f64, true, false, 0.25),
        (0.4, true, true, 0.0004),
        (50.0, false, true, 50.0),
        (1.2, false, false, 1.2),
    ] {
        let found = read(
            &Report {
                ec: Some(ec),
                ec_in_us_cm: in_us,
                ..Report::EMPTY
            },
            &clay(),
        );
        let asked = tells(&found, |found| {
            matches!(
                found,
                Finding::PerhapsDecisiemens { .. } | Finding::PerhapsMicrosiemens { .. }
            )
        });
        assert_eq!(asked, perhaps, "{ec}: {found:?}");
        assert_relative(
            typical(&found, Trait::EcSaturatedPaste),
            stored,
            1e-12,
            "as typed",
        );
    }
}

#[test]
fn salt_is_written_once_and_by_its_method() {
    // PLOS ONE 2018, table 2, at 1.5 dS/m.
    for (class, ec) in [
        (Class::SandyLoam, 4.455),
        (Class::Loam, 3.745),
        (Class::Clay, 3.02),
    ] {
        assert_close(paste_of_1to1_ds_m(1.5, Some(class)), ec, 1e-6, class.id());
    }
    assert_eq!(
        paste_of_1to1_ds_m(0.2, Some(Class::Clay)),
        0.2,
        "never less"
    );
    assert_eq!(paste_of_1to1_ds_m(f64::NAN, None), 0.0, "no number");
    let mut ground = clay();
    ground.set(Trait::EcSaturatedPaste, Some(Figure::exact(0.6)));
    let found = read(
        &Report {
            ec: Some(0.3),
            ec_by: EcMethod::OneToFive,
            ..Report::EMPTY
        },
        &ground,
    );
    found.put(&mut ground);
    assert_eq!(ground.get(Trait::EcSaturatedPaste), None, "only one stands");
    assert_eq!(
        ground.get(Trait::Ec1To5),
        Some(Figure::exact(0.3)),
        "the new one"
    );
    let found = read(
        &Report {
            ec: Some(1.5),
            ec_by: EcMethod::OneToOne,
            ..Report::EMPTY
        },
        &ground,
    );
    found.put(&mut ground);
    assert_eq!(ground.get(Trait::Ec1To5), None, "only one stands");
    let paste = ground.get(Trait::EcSaturatedPaste).expect("computed");
    assert_close(paste.typical, 3.02, 1e-9, "of a clay");
    assert!(paste.is_in_doubt(), "with its error");
}

#[test]
fn sodium_magnesium_and_phosphorus_are_told() {
    let of = |calcium, magnesium, sodium, ec| {
        read(
            &Report {
                unit: CationUnit::Share,
                cations: [Some(calcium), Some(magnesium), None, Some(sodium), None],
                ec,
                ..Report::EMPTY
            },
            &clay(),
        )
    };
    for (found, class, reason, salt) in [
        (
            of(70.0, 15.0, 0.8, None),
            SodiumClass::Low,
            Reason::NoneNeeded,
            None,
        ),
        (
            of(60.0, 15.0, 8.0, Some(1.0)),
            SodiumClass::Watch,
            Reason::Watch,
            Some(SaltClass::Normal),
        ),
        (
            of(40.0, 20.0, 30.0, Some(1.0)),
            SodiumClass::Sodic,
            Reason::Sodic,
            Some(SaltClass::Sodic),
        ),
        (
            of(40.0, 20.0, 30.0, Some(9.0)),
            SodiumClass::Sodic,
            Reason::Sodic,
            Some(SaltClass::SalineSodic),
        ),
        (
            of(45.0, 38.0, 2.0, None),
            SodiumClass::Low,
            Reason::Magnesium,
            None,
        ),
    ] {
        assert!(
            tells(
                &found,
                |found| matches!(found, Finding::Sodium { class: c, reason: r, salt: s, .. }
                if *c == class && *r == reason && *s == salt)
            ),
            "{class:?} {reason:?} {salt:?}: {found:?}"
        );
    }
    assert!(
        tells(&of(45.0, 38.0, 2.0, None), |found| matches!(
            found,
            Finding::Magnesium {
                case: MagnesiumCase::Likely,
                ..
            }
        )),
        "magnesium"
    );
    for (extractant, stop) in [
        (Extractant::Mehlich3, 70.0),
        (Extractant::Bray1, 50.0),
        (Extractant::Olsen, 40.0),
    ] {
        for (ppm, high) in [(stop - 1.0, false), (stop, true)] {
            let found = read(
                &Report {
                    phosphorus: Some(ppm),
                    extractant,
                    ..Report::EMPTY
                },
                &clay(),
            );
            let told = tells(&found, |found| {
                matches!(found, Finding::PhosphorusHigh { .. })
            });
            assert_eq!(told, high, "{extractant:?} at {ppm}");
            assert!(found.traits.is_empty(), "it is told, not stored");
        }
    }
    // A ratio serves where no share is printed.
    let found = read(
        &Report {
            sar: Some(13.0),
            ..Report::EMPTY
        },
        &clay(),
    );
    assert_close(
        typical(&found, Trait::SodiumShare),
        15.19,
        0.01,
        "of the ratio",
    );
    assert!(
        found
            .figure(Trait::SodiumShare)
            .expect("written")
            .is_in_doubt(),
        "with its error"
    );
}

#[test]
fn bad_reports_are_told_or_wide() {
    let only = |report: Report| read(&report, &clay());
    let found = only(Report {
        ph: Some(6.2),
        ..Report::EMPTY
    });
    assert!(
        tells(&found, |found| *found == Finding::OnlyPh),
        "{found:?}"
    );
    assert_eq!(found.traits.len(), 1, "and nothing else is written");
    for ph in [0.0, 14.0] {
        let found = only(Report {
            ph: Some(ph),
            ..Report::EMPTY
        });
        assert!(
            tells(&found, |found| matches!(
                found,
                Finding::Unusual {
                    field: Field::Ph,
                    ..
                }
            )),
            "{ph}: {found:?}"
        );
    }
    // Nothing, and so little that a share of it is no number.
    for cec in [0.0, 1.5e-308] {
        let found = only(Report {
            cec: Some(cec),
            ..in_ppm()
        });
        assert!(
            tells(&found, |found| matches!(
                found,
                Finding::Unusual {
                    field: Field::Cec,
                    ..
                }
            )) && tells(&found, |found| *found == Finding::NoCapacity),
            "{found:?}"
        );
    }
    let found = only(Report {
        unit: CationUnit::Share,
        cations: [Some(0.0), Some(0.0), Some(0.0), Some(100.0), Some(0.0)],
        ..Report::EMPTY
    });
    assert_eq!(typical(&found, Trait::SodiumShare), 100.0, "as typed");
    assert!(
        tells(&found, |found| matches!(
            found,
            Finding::Sodium {
                class: SodiumClass::Sodic,
                ..
            }
        )),
        "{found:?}"
    );
    for (report, field) in [
        (
            Report {
                ph: Some(-1.0),
                ..Report::EMPTY
            },
            Field::Ph,
        ),
        (
            Report {
                ph: Some(f64::NAN),
                ..Report::EMPTY
            },
            Field::Ph,
        ),
        (
            Report {
                cec: Some(1e6),
                ..Report::EMPTY
            },
            Field::Cec,
        ),
        (
            Report {
                ec: Some(-0.1),
                ..Report::EMPTY
            },
            Field::Ec,
        ),
        (
            Report {
                organic: Some(101.0),
                ..Report::EMPTY
            },
            Field::Organic,
        ),
        (
            Report {
                carbonate: Some(f64::INFINITY),
                ..Report::EMPTY
            },
            Field::Carbonate,
        ),
        (
            Report {
                phosphorus: Some(-1.0),
                ..Report::EMPTY
            },
            Field::Phosphorus,
        ),
        (
            Report {
                sar: Some(1e9),
                ..Report::EMPTY
            },
            Field::Sar,
        ),
    ] {
        let found = only(report);
        assert!(
            tells(
                &found,
                |found| matches!(found, Finding::Outside { field: told, .. } if *told == field)
            ),
            "{field:?}: {found:?}"
        );
        assert!(found.traits.is_empty(), "{field:?} is left out: {found:?}");
    }
    assert_eq!(only(Report::EMPTY), Read::default(), "nothing says nothing");
}

#[test]
fn crumbs_in_water_have_an_index_and_a_meaning() {
    let of = |at_2h, at_20h| Milkiness { at_2h, at_20h };
    // The index is the sum of both readings, and 8 more where crumbs go milky by themselves.
    for (natural, worked, expected) in [
        (of(0, 1), None, Ok(9)),
        (of(4, 4), None, Ok(16)),
        (of(1, 2), Some(of(4, 4)), Ok(11)),
        (of(0, 0), Some(of(0, 0)), Ok(0)),
        (of(0, 0), Some(of(3, 4)), Ok(7)),
        (of(0, 0), None, Err(DispersionFault::WorkWet)),
        (
            of(5, 0),
            None,
            Err(DispersionFault::Outside { score: 5, most: 4 }),
        ),
        (
            of(0, 0),
            Some(of(0, 9)),
            Err(DispersionFault::Outside { score: 9, most: 4 }),
        ),
    ] {
        assert_eq!(index(natural, worked), expected, "{natural:?} {worked:?}");
    }
    for (indices, meaning) in [
        (0..=2, Dispersion::Stable),
        (3..=8, Dispersion::OnlyWorked),
        (9..=12, Dispersion::ByItself),
        (13..=16, Dispersion::Severe),
    ] {
        for index in indices {
            assert_eq!(Dispersion::of_index(index), meaning, "{index}");
        }
    }
    assert_eq!(
        Dispersion::of_index(255),
        Dispersion::Severe,
        "beyond the scale"
    );
    let mut last = 0.0;
    for index in 0..=16 {
        let sodium = Dispersion::of_index(index).sodium_pct();
        assert!(
            sodium.typical >= last,
            "milkier never means less sodium: {index}"
        );
        last = sodium.typical;
    }
}

fn maybe() -> impl Strategy<Value = Option<f64>> {
    prop_oneof![
        2 => proptest::strategy::Just(None),
        3 => (0.0..120.0_f64).prop_map(Some),
        2 => (0.0..6000.0_f64).prop_map(Some),
        1 => any::<f64>().prop_map(Some),
    ]
}

fn anything() -> impl Strategy<Value = Report> {
    let numbers = proptest::array::uniform14(maybe());
    (numbers, any::<[u8; 7]>(), any::<f64>()).prop_map(|(n, pick, depth_m)| Report {
        ph: n[0],
        shaken: [
            ShakenIn::Water1,
            ShakenIn::Water2AndAHalf,
            ShakenIn::Water5,
            ShakenIn::CalciumChloride,
        ][usize::from(pick[0] % 4)],
        buffer_ph: n[1],
        buffer: Buffer::ALL[usize::from(pick[1] % 3)],
        sifted_kg_l: n[2],
        cec: n[3],
        cations: [n[4], n[5], n[6], n[7], n[8]],
        unit: [
            CationUnit::Ppm,
            CationUnit::PoundsPerAcre { depth_m },
            CationUnit::Meq,
            CationUnit::Share,
        ][usize::from(pick[2] % 4)],
        sar: n[9],
        organic: n[10],
        organic_by: [
            OrganicMethod::Unknown,
            OrganicMethod::LossCalibrated,
            OrganicMethod::LossAsWeighed,
            OrganicMethod::Carbon,
            OrganicMethod::FromCarbon,
        ][usize::from(pick[3] % 5)],
        ec: n[11],
        ec_in_us_cm: pick[4] % 2 == 0,
        ec_by: [
            EcMethod::Paste,
            EcMethod::OneToOne,
            EcMethod::OneToTwo,
            EcMethod::OneToFive,
        ][usize::from(pick[5] % 4)],
        carbonate: n[12],
        fizz: [None, Some(Fizz::None), Some(Fizz::Weak), Some(Fizz::Strong)]
            [usize::from(pick[6] % 4)],
        phosphorus: n[13],
        phosphorus_to_m: (pick[6] > 127).then_some(depth_m),
        extractant: Extractant::Olsen,
    })
}

proptest! {
    /// Whatever a report says, what is written is a range within its limits, and at most one salt.
    #[test]
    fn any_report_is_read(report in anything()) {
        let found = read(&report, &clay());
        let mut sum = 0.0;
        for (of, figure) in &found.traits {
            let (least, most) = of.limits();
            let ends = figure.ends();
            prop_assert!(
                least <= ends.low && ends.low <= figure.typical && figure.typical <= ends.high && ends.high <= most,
                "{of:?} {figure:?}"
            );
            let same = found.traits.iter().filter(|(other, _)| other == of).count();
            prop_assert!(same == 1, "{of:?} is written once");
            if of.name().ends_with("_share_pct") {
                sum += figure.typical;
            }
        }
        for finding in &found.findings {
            let text = finding_text(finding, sum > 50.0);
            prop_assert!(!text.contains("NaN") && !text.contains("inf ") && !text.is_empty(), "{text}");
        }
        let written = written_text(&found, METRIC);
        prop_assert!(written.is_some() != found.traits.is_empty(), "{written:?}");
        prop_assert!(!written.unwrap_or_default().contains("NaN"), "{found:?}");
        prop_assert!(sum <= 102.1, "shares sum to {sum}: {found:?}");
        let mut ground = clay();
        found.put(&mut ground);
        let salts = [Trait::EcSaturatedPaste, Trait::Ec1To5, Trait::Ec1To2];
        prop_assert!(salts.iter().filter(|of| ground.get(**of).is_some()).count() <= 1);
        prop_assert!(ground.get(Trait::Clay) == clay().get(Trait::Clay), "what was not filled in stays");
    }
}
