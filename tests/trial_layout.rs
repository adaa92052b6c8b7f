#![cfg(not(target_arch = "wasm32"))]
//! Layouts drawn from a seed: the vectors anyone can repeat, laws on random plans, advice.

use barrowmix::draws::SplitMix64;
use barrowmix::trial::layout::{
    CONTAINERS_LIMIT, COPIES_LIMIT, Design, GENERATOR, Layout, LayoutAdvice, LayoutFault,
    SeedFault, Site, Spot, TREATMENTS, Wanted, advice, design_for, seed_of_text, shuffled,
};
use proptest::prelude::*;

fn rows() -> Vec<[String; 4]> {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/reference/trial_layouts.csv"
    );
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(path)
        .expect("the table opens");
    let cells = |row: csv::StringRecord| [0, 1, 2, 3].map(|at| row[at].to_owned());
    let rows = reader.records().map(|row| cells(row.expect("a row")));
    rows.collect()
}

fn wanted(design: Design, treatments: usize, blocks: usize, seed: u64) -> Wanted {
    Wanted {
        design,
        copies: vec![1; treatments],
        blocks,
        seed,
        columns: None,
    }
}

/// What our code makes of a row: kind, seed, what is asked for.
fn ours(kind: &str, seed: u64, asked: &str) -> String {
    let numbers: Vec<usize> = asked
        .split(' ')
        .filter_map(|part| part.parse().ok())
        .collect();
    let mut stream = SplitMix64::new(seed);
    let plan = |design: Design, blocks: usize| {
        let layout = Layout::of(&wanted(design, numbers[0], blocks, seed));
        layout.expect("it can be set out").plan_text()
    };
    let several = |values: Vec<u64>| -> String {
        let texts: Vec<String> = values.iter().map(u64::to_string).collect();
        texts.join(" ")
    };
    match kind {
        "outputs" => several((0..numbers[0]).map(|_| stream.next_u64()).collect()),
        "below" => {
            let below = numbers[0] as u64;
            several((0..numbers[1]).map(|_| stream.below(below)).collect())
        }
        "shuffle" => {
            let letters: Vec<char> = ('A'..='Z').take(numbers[0]).collect();
            shuffled(&letters, &mut stream).into_iter().collect()
        }
        "blocks" => plan(Design::Blocks, numbers[1]),
        "random" => plan(Design::Random, numbers[1]),
        "latin" => plan(Design::Latin, 1),
        other => panic!("{other}"),
    }
}

#[test]
fn layouts_are_those_that_anyone_draws() {
    let rows = rows();
    assert_eq!(rows.len(), 10, "all vectors are there");
    for [kind, seed, asked, expected] in rows {
        let seed = seed_of_text(&seed).expect("a seed");
        assert_eq!(ours(&kind, seed, &asked), expected, "{kind} {seed} {asked}");
    }
    assert_eq!(GENERATOR, "SplitMix64", "what is printed beside the seed");
}

#[test]
fn seeds_are_digits() {
    assert_eq!(seed_of_text(" 20260401 "), Ok(20_260_401), "white space");
    assert_eq!(
        seed_of_text("18446744073709551615"),
        Ok(u64::MAX),
        "more than a browser's number holds"
    );
    let most = u64::MAX;
    assert_eq!(
        seed_of_text("18446744073709551616"),
        Err(SeedFault::TooLarge { most }),
        "one more"
    );
    for text in ["", "-1", "1.5", "1e3", "0x10", "twelve", "+4", "٣"] {
        assert_eq!(seed_of_text(text), Err(SeedFault::NotDigits), "{text:?}");
    }
}

#[test]
fn what_cannot_be_set_out_is_told() {
    let fault = |wanted: Wanted| Layout::of(&wanted).expect_err("it cannot");
    let (least, most) = TREATMENTS;
    for found in [0, 1, most + 1] {
        assert_eq!(
            fault(wanted(Design::Blocks, found, 4, 1)),
            LayoutFault::Treatments { found, least, most },
            "{found} treatments"
        );
    }
    assert_eq!(
        fault(wanted(Design::Random, 3, 0, 1)),
        LayoutFault::NoBlocks,
        "no container at all"
    );
    let most = CONTAINERS_LIMIT;
    assert_eq!(
        fault(wanted(Design::Random, 2, usize::MAX, 1)),
        LayoutFault::Containers {
            found: usize::MAX,
            most
        },
        "sums do not overflow"
    );
    for design in Design::ALL.iter().copied() {
        let said = advice(&wanted(design, 2, usize::MAX, 1), None);
        assert!(said.len() < 9, "advice on it does not overflow either");
    }
    let mut copies = wanted(Design::Blocks, 3, 4, 1);
    copies.copies[1] = 0;
    assert_eq!(
        fault(copies.clone()),
        LayoutFault::Copies {
            treatment: 1,
            found: 0,
            most: COPIES_LIMIT
        },
        "a treatment without a container"
    );
    copies.copies[1] = 2;
    assert!(Layout::of(&copies).is_ok(), "two of one in a block");
    copies.design = Design::Latin;
    assert_eq!(
        fault(copies),
        LayoutFault::LatinCopies { treatment: 1 },
        "not in a square"
    );
    let mut narrow = wanted(Design::Random, 3, 2, 1);
    narrow.columns = Some(0);
    assert_eq!(
        fault(narrow),
        LayoutFault::NoColumns,
        "nothing side by side"
    );
}

/// Error degrees of freedom by the textbook: t(n-1), (t-1)(b-1), (t-1)(t-2).
#[test]
fn freedom_is_that_of_the_textbook() {
    for t in 2..=12_usize {
        for n in 1..=16 {
            if t * n > CONTAINERS_LIMIT {
                continue;
            }
            let freedom = |design: Design| wanted(design, t, n, 1).error_freedom();
            assert_eq!(freedom(Design::Random), t * (n - 1), "random {t} {n}");
            assert_eq!(freedom(Design::Blocks), (t - 1) * (n - 1), "blocks {t} {n}");
            assert_eq!(freedom(Design::Latin), (t - 1) * (t - 2), "latin {t}");
        }
    }
}

#[test]
fn advice_names_what_is_wrong_with_a_layout() {
    let said = |design, t, blocks, site| advice(&wanted(design, t, blocks, 1), site);
    assert_eq!(
        said(Design::Blocks, 5, 4, Some(Site::OneWay)),
        [],
        "the usual plan"
    );
    assert_eq!(
        said(Design::Blocks, 5, 4, Some(Site::Even)),
        [],
        "blocks do no harm"
    );
    assert!(
        said(Design::Blocks, 5, 1, None).contains(&LayoutAdvice::OneEach),
        "one container each"
    );
    assert_eq!(
        said(Design::Blocks, 3, 4, None),
        [LayoutAdvice::FewLeft {
            freedom: 6,
            wanted: 10
        }],
        "few are left"
    );
    assert_eq!(
        said(Design::Latin, 3, 3, Some(Site::TwoWays)),
        [
            LayoutAdvice::LatinOfThree,
            LayoutAdvice::OtherDesign {
                better: Design::Blocks
            }
        ],
        "a square of three"
    );
    assert_eq!(
        said(Design::Random, 4, 4, Some(Site::OneWay)),
        [LayoutAdvice::OtherDesign {
            better: Design::Blocks
        }],
        "beside a wall"
    );
    assert_eq!(
        said(Design::Random, 4, 4, None),
        [LayoutAdvice::ManyForOnePlace { most: 12 }],
        "many for even light"
    );
    assert!(
        said(Design::Blocks, 9, 4, None).contains(&LayoutAdvice::LongStrip { most: 8 }),
        "a long strip"
    );
    assert_eq!(design_for(Site::Even, 4, 12), Design::Random, "even light");
    assert_eq!(design_for(Site::TwoWays, 4, 16), Design::Latin, "two ways");
    assert_eq!(design_for(Site::TwoWays, 7, 49), Design::Blocks, "too many");
}

fn any_wanted() -> impl Strategy<Value = Wanted> {
    let design = prop_oneof![
        Just(Design::Blocks),
        Just(Design::Random),
        Just(Design::Latin)
    ];
    let copies = prop::collection::vec(1..=3_usize, 2..=8);
    let columns = prop::option::of(1..=9_usize);
    (design, copies, 1..=8_usize, any::<u64>(), columns).prop_map(
        |(design, mut copies, blocks, seed, columns)| {
            if design == Design::Latin {
                copies.fill(1);
            }
            Wanted {
                design,
                copies,
                blocks,
                seed,
                columns,
            }
        },
    )
}

proptest! {
    #[test]
    fn every_layout_is_fair(wanted in any_wanted()) {
        prop_assume!(wanted.containers() <= CONTAINERS_LIMIT);
        let layout = Layout::of(&wanted).expect("within the limits");
        prop_assert_eq!(layout.spots.len(), wanted.containers());
        // Every treatment as often as asked for, in all and in each block.
        for (treatment, repeats) in wanted.repeats().into_iter().enumerate() {
            let all = layout.spots.iter().filter(|spot| spot.treatment == treatment);
            prop_assert_eq!(all.count(), repeats, "treatment {}", treatment);
            for block in 0..layout.blocks {
                let of = layout
                    .spots
                    .iter()
                    .filter(|spot| spot.block == block && spot.treatment == treatment);
                let expected = repeats / layout.blocks;
                prop_assert_eq!(of.count(), expected, "block {}", block);
            }
        }
        if wanted.design == Design::Latin {
            let side = wanted.copies.len();
            for line in 0..side {
                for of in [|spot: &Spot| spot.row, |spot: &Spot| spot.column] {
                    let mut found: Vec<usize> = layout
                        .spots
                        .iter()
                        .filter(|spot| of(spot) == line)
                        .map(|spot| spot.treatment)
                        .collect();
                    found.sort_unstable();
                    let once: Vec<usize> = (0..side).collect();
                    prop_assert_eq!(found, once, "line {}", line);
                }
            }
        }
    }

    #[test]
    fn every_container_has_a_place_and_a_code_of_its_own(wanted in any_wanted()) {
        prop_assume!(wanted.containers() <= CONTAINERS_LIMIT);
        let layout = Layout::of(&wanted).expect("within the limits");
        let mut places: Vec<[usize; 2]> =
            layout.spots.iter().map(|spot| [spot.row, spot.column]).collect();
        places.sort_unstable();
        places.dedup();
        prop_assert_eq!(places.len(), layout.spots.len(), "no two stand in one place");
        let mut walk = layout.walk();
        for pair in walk.windows(2) {
            let [one, other] = [layout.spots[pair[0]], layout.spots[pair[1]]];
            let step = one.row.abs_diff(other.row) * 100 + one.column.abs_diff(other.column);
            // A short last row of a block may be entered at a distance.
            prop_assert!(one.row != other.row || step == 1, "a walk goes on to the next");
        }
        walk.sort_unstable();
        let all: Vec<usize> = (0..layout.spots.len()).collect();
        prop_assert_eq!(walk, all, "a walk passes each once");
        for container in 0..layout.spots.len() {
            let code = layout.code(container).expect("it has one");
            prop_assert_eq!(layout.container_of(&code), Some(container), "{}", code);
            let lower = code.to_lowercase().replace("-0", "-");
            prop_assert_eq!(layout.container_of(&lower), Some(container), "{}", lower);
        }
        prop_assert_eq!(layout.code(layout.spots.len()), None);
        let mut letters: Vec<char> =
            (0..layout.treatments).filter_map(|of| layout.letter(of)).collect();
        letters.sort_unstable();
        letters.dedup();
        prop_assert_eq!(letters.len(), layout.treatments, "a letter of its own for each");
    }

    #[test]
    fn any_text_is_a_code_or_none(code in "\\PC{0,12}") {
        let layout = Layout::of(&wanted(Design::Blocks, 4, 4, 7)).expect("it can");
        if let Some(container) = layout.container_of(&code) {
            prop_assert!(container < 16);
        }
    }
}

/// Blind letters are drawn apart: they say nothing of the order of treatments, and asking for them
/// moves nothing.
#[test]
fn letters_are_each_as_likely() {
    let mut count = [[0_u32; 4]; 4];
    for seed in 0..4000 {
        let layout = Layout::of(&wanted(Design::Blocks, 4, 1, seed)).expect("it can");
        for (treatment, row) in count.iter_mut().enumerate() {
            let letter = layout.letter(treatment).expect("it has one");
            row["ABCD".find(letter).expect("one of four")] += 1;
        }
    }
    // 1000 each; five standard errors of a binomial count.
    let off = 5.0 * (4000.0_f64 * 0.25 * 0.75).sqrt();
    for cell in count.into_iter().flatten() {
        assert!((f64::from(cell) - 1000.0).abs() < off, "{count:?}");
    }
}

#[test]
fn labels_and_hashes_tell_plans_apart() {
    let layout = Layout::of(&wanted(Design::Blocks, 5, 4, 20_260_401)).expect("it can");
    assert_eq!(layout.code(7).as_deref(), Some("B2-03"), "block and place");
    let label = layout.label("T1", 7).expect("it has one");
    assert!(label.starts_with("T1|B2-03|2|"), "{label}");
    assert_eq!(layout.hash().len(), 8, "eight digits");
    let other = Layout::of(&wanted(Design::Blocks, 5, 4, 20_260_402)).expect("it can");
    assert_ne!(layout.hash(), other.hash(), "another plan");
    let random = Layout::of(&wanted(Design::Random, 3, 3, 20_260_401)).expect("it can");
    assert_eq!(random.grid(), (3, 3), "nine stand in a square");
    assert_eq!(random.code(6).as_deref(), Some("P-07"), "a place alone");
}
