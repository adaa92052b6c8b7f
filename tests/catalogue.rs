#![cfg(not(target_arch = "wasm32"))]
//! The catalogue: its materials can be mixed, and a slip in its file is told with the line.

use barrowmix::material::{Entry, Material, Property, catalogue};

/// The script that checks the file when the crate is built.
#[allow(dead_code, unreachable_pub)]
#[path = "../build.rs"]
mod build;

const HEADER: &str = "id,name,group,field,unit,low,typical,high,source,mark,note\n";

#[test]
fn every_material_can_be_mixed() {
    assert_eq!(catalogue().len(), 42, "forty-two materials");
    for entry in catalogue() {
        let material = Material::of(entry.group, &entry.properties);
        let material = material.unwrap_or_else(|misfit| panic!("{}: {misfit:?}", entry.id));
        let sum: f64 = material.fractions.iter().sum();
        assert!(
            (sum - 1.0).abs() < 1e-12,
            "{}: fractions sum to 1",
            entry.id
        );
        assert!(
            material.settled_dry_density_kg_m3 >= material.fresh_dry_density_kg_m3,
            "{} settles",
            entry.id
        );
        assert!(!entry.name.is_empty(), "{} has a name", entry.id);
    }
}

#[test]
fn numbers_are_those_of_the_file() {
    let text = include_str!("../src/material/catalogue.csv");
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let mut rows = 0;
    for row in reader.records() {
        let row = row.expect("a row");
        let entry = Entry::find(&row[0]).unwrap_or_else(|| panic!("{} is known", &row[0]));
        let property = Property::ALL
            .iter()
            .find(|property| property.name() == &row[3]);
        let Some(property) = property else { continue };
        let figure = entry.properties.get(*property);
        let figure = figure.unwrap_or_else(|| panic!("{} has {}", &row[0], &row[3]));
        assert_eq!(
            Ok(figure.typical),
            row[6].parse(),
            "{} {}",
            &row[0],
            &row[3]
        );
        rows += 1;
    }
    assert!(rows >= 745, "{rows} rows");
}

/// A source of the name S.
fn sources() -> build::table::Sources {
    [("S".to_owned(), "Somebody 1999".to_owned())].into()
}

#[test]
fn a_slip_in_the_file_is_told_with_its_line() {
    let good = "a,A,sand,loose_density_kg_m3,u,1400,1500,1600,S,practice,\n\
                a,A,sand,water_per_wet_pct,u,1,2,3,S,practice,\n\
                a,A,sand,grain_mm,u,0.5,0.6,0.7,S,practice,\n";
    assert!(
        build::catalogue::read(&format!("{HEADER}{good}"), &sources()).is_ok(),
        "a good file"
    );
    for (row, says) in [
        ("a,A,sand,coarse_pct,u,1,2,3,,practice,", "source"),
        ("a,A,sand,coarse_pct,u,3,2,1,S,practice,", "low <= typical"),
        ("a,A,sand,coarse_pct,u,1,2,300,S,practice,", "<= 100"),
        (
            "a,A,sand,coarse_pct,u,1,x,3,S,practice,",
            "typical is not a number",
        ),
        ("a,A,sand,coarse,u,1,2,3,S,practice,", "no field"),
        ("a,A,sands,coarse_pct,u,1,2,3,S,practice,", "no group"),
        ("a,A,sand,coarse_pct,u,1,2,3,S,hearsay,", "mark"),
        ("a,A,sand,coarse_pct,u,1,2,3,NOBODY,practice,", "no source"),
        ("a,A,sand,usual_rate,,1,2,3,S,practice,", "unit"),
        ("a,A,sand,flag_dust,u,0,1.5,3,S,practice,", "whole levels"),
        ("a,B,sand,coarse_pct,u,1,2,3,S,practice,", "another name"),
        ("a,A,sand,grain_mm,u,1,2,3,S,practice,", "twice"),
        ("A b,A,sand,grain_mm,u,1,2,3,S,practice,", "a-z"),
    ] {
        let fault = build::catalogue::read(&format!("{HEADER}{good}{row}\n"), &sources());
        let fault = fault.err().unwrap_or_else(|| panic!("{row} is a slip"));
        assert!(
            fault.starts_with("src/material/catalogue.csv:5: "),
            "{fault}"
        );
        assert!(fault.contains(says), "{fault}: {says}");
    }
    let whole = build::catalogue::read(
        &format!("{HEADER}a,A,sand,grain_mm,mm,1,2,3,S,practice,\n"),
        &sources(),
    );
    let whole = whole.err().expect("densities are missing");
    assert!(
        whole.starts_with("src/material/catalogue.csv:2: a: "),
        "{whole}"
    );
}
