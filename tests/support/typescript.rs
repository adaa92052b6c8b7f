//! As much of TypeScript's types as our own file of them uses: read, and held against values.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

#[derive(Clone, Debug)]
enum Type {
    Exactly(Value),
    Named(String, Vec<Type>),
    List(Box<Type>),
    Either(Vec<Type>),
    Fields(Vec<Field>),
}

#[derive(Clone, Debug)]
struct Field {
    name: String,
    optional: bool,
    of: Type,
}

struct Declared {
    /// The name of what it takes, such as `F` of `Properties<F>`.
    takes: Option<String>,
    extends: Option<Type>,
    of: Type,
}

/// The types of a file.
pub(crate) struct Types(BTreeMap<String, Declared>);

/// Fields of interfaces that were met in a value.
pub(crate) type Met = BTreeSet<(String, String)>;

struct Reader {
    words: Vec<String>,
    at: usize,
}

impl Types {
    /// Reads the declarations of a file.
    pub(crate) fn read(text: &str) -> Types {
        let mut reader = Reader {
            words: words(text),
            at: 0,
        };
        let mut types = BTreeMap::new();
        while reader.at < reader.words.len() {
            reader.expect("export");
            let kind = reader.next();
            let name = reader.next();
            let takes = reader.takes("<").then(|| {
                let takes = reader.next();
                reader.expect(">");
                takes
            });
            let extends = reader.takes("extends").then(|| reader.primary());
            if kind == "type" {
                reader.expect("=");
            }
            let of = reader.union();
            reader.takes(";");
            let declared = Declared { takes, extends, of };
            assert!(
                types.insert(name.clone(), declared).is_none(),
                "{name} is declared once"
            );
        }
        Types(types)
    }

    /// The words of a type that is one of several texts.
    pub(crate) fn words_of(&self, name: &str) -> Vec<String> {
        let mut out = Vec::new();
        self.texts(&self.0[name].of, &mut out);
        out
    }

    fn texts(&self, of: &Type, out: &mut Vec<String>) {
        match of {
            Type::Exactly(Value::String(text)) => out.push(text.clone()),
            Type::Either(all) => all.iter().for_each(|one| self.texts(one, out)),
            Type::Named(name, _) => out.extend(self.words_of(name)),
            other => panic!("{other:?} is no text"),
        }
    }

    /// Every field of every interface.
    pub(crate) fn fields(&self) -> Met {
        let mut out = Met::new();
        for (name, declared) in &self.0 {
            if let Type::Fields(fields) = &declared.of {
                out.extend(
                    fields
                        .iter()
                        .map(|field| (name.clone(), field.name.clone())),
                );
            }
        }
        out
    }

    /// The names of the fields of an interface, its own.
    pub(crate) fn fields_of(&self, name: &str) -> Vec<String> {
        match &self.0[name].of {
            Type::Fields(fields) => fields.iter().map(|field| field.name.clone()).collect(),
            _ => panic!("{name} has no fields"),
        }
    }

    /// Holds a value against a type; what it met of interfaces is noted.
    pub(crate) fn hold(&self, value: &Value, name: &str, met: &mut Met) -> Result<(), String> {
        self.fits(value, &Type::Named(name.to_owned(), Vec::new()), met)
    }

    fn fits(&self, value: &Value, of: &Type, met: &mut Met) -> Result<(), String> {
        let wrong = || Err(format!("{value} is no {of:?}"));
        match of {
            Type::Exactly(exactly) => {
                let same = value == exactly
                    || value.as_f64().is_some() && value.as_f64() == exactly.as_f64();
                if same { Ok(()) } else { wrong() }
            }
            Type::List(each) => {
                let Value::Array(items) = value else {
                    return wrong();
                };
                items.iter().try_for_each(|item| self.fits(item, each, met))
            }
            Type::Either(all) => {
                let mut told = Vec::new();
                for one in all {
                    let mut own = Met::new();
                    match self.fits(value, one, &mut own) {
                        Ok(()) => {
                            met.extend(own);
                            return Ok(());
                        }
                        Err(error) => told.push(error),
                    }
                }
                Err(told.join("; or "))
            }
            Type::Fields(fields) => self.fields_fit(value, fields, "", met),
            Type::Named(name, given) => self.named(value, name, given, met),
        }
    }

    fn named(
        &self,
        value: &Value,
        name: &str,
        given: &[Type],
        met: &mut Met,
    ) -> Result<(), String> {
        let good = match (name, given) {
            ("number", []) => value.is_number(),
            ("string", []) => value.is_string(),
            ("boolean", []) => value.is_boolean(),
            ("unknown", []) => true,
            ("Partial", [of]) => return self.fits(value, of, met),
            ("Record", [key, of]) => {
                let Value::Object(pairs) = value else {
                    return Err(format!("{value} is no Record"));
                };
                return pairs.iter().try_for_each(|(name, value)| {
                    self.fits(&Value::from(name.as_str()), key, met)?;
                    self.fits(value, of, met)
                });
            }
            _ => {
                let declared = self
                    .0
                    .get(name)
                    .unwrap_or_else(|| panic!("{name} is declared"));
                let given = declared.takes.as_deref().zip(given.first());
                let of = replaced(&declared.of, given);
                let Type::Fields(mut fields) = of else {
                    return self.fits(value, &of, met);
                };
                if let Some(Type::Named(base, taken)) = &declared.extends {
                    let base = &self.0[base];
                    let given = base.takes.as_deref().zip(taken.first());
                    if let Type::Fields(more) = replaced(&base.of, given) {
                        fields.extend(more);
                    }
                }
                return self
                    .fields_fit(value, &fields, name, met)
                    .map_err(|error| format!("{name}: {error}"));
            }
        };
        if good {
            Ok(())
        } else {
            Err(format!("{value} is no {name}"))
        }
    }

    fn fields_fit(
        &self,
        value: &Value,
        fields: &[Field],
        name: &str,
        met: &mut Met,
    ) -> Result<(), String> {
        let Value::Object(pairs) = value else {
            return Err(format!("{value} is no object"));
        };
        for field in fields {
            if !field.optional && !pairs.contains_key(&field.name) {
                return Err(format!("{} is missing", field.name));
            }
        }
        for (key, value) in pairs {
            let field = fields.iter().find(|field| field.name == *key);
            let field = field.ok_or_else(|| format!("{key} is not declared"))?;
            self.fits(value, &field.of, met)
                .map_err(|error| format!("{key}: {error}"))?;
            met.insert((name.to_owned(), key.clone()));
        }
        Ok(())
    }
}

/// A type with what it takes in its place.
fn replaced(of: &Type, given: Option<(&str, &Type)>) -> Type {
    let Some((takes, with)) = given else {
        return of.clone();
    };
    let again = |of: &Type| replaced(of, given);
    match of {
        Type::Named(name, args) if name == takes && args.is_empty() => with.clone(),
        Type::Named(name, args) => Type::Named(name.clone(), args.iter().map(again).collect()),
        Type::List(each) => Type::List(Box::new(again(each))),
        Type::Either(all) => Type::Either(all.iter().map(again).collect()),
        Type::Fields(fields) => {
            let field = |field: &Field| Field {
                of: again(&field.of),
                ..field.clone()
            };
            Type::Fields(fields.iter().map(field).collect())
        }
        Type::Exactly(_) => of.clone(),
    }
}

impl Reader {
    fn next(&mut self) -> String {
        let word = self.words.get(self.at).cloned();
        self.at += 1;
        word.expect("the file goes on")
    }

    fn takes(&mut self, word: &str) -> bool {
        let there = self.words.get(self.at).is_some_and(|next| next == word);
        self.at += usize::from(there);
        there
    }

    fn expect(&mut self, word: &str) {
        let next = self.next();
        assert_eq!(next, word, "at word {} of the types", self.at);
    }

    fn union(&mut self) -> Type {
        let mut all = vec![self.primary()];
        while self.takes("|") {
            all.push(self.primary());
        }
        match all.len() {
            1 => all.remove(0),
            _ => Type::Either(all),
        }
    }

    fn primary(&mut self) -> Type {
        let word = self.next();
        let mut of = match word.as_str() {
            "(" => {
                let of = self.union();
                self.expect(")");
                of
            }
            "{" => {
                let mut fields = Vec::new();
                while !self.takes("}") {
                    let name = self.next();
                    let optional = self.takes("?");
                    self.expect(":");
                    let of = self.union();
                    self.expect(";");
                    fields.push(Field { name, optional, of });
                }
                Type::Fields(fields)
            }
            literal => match serde_json::from_str(literal) {
                Ok(value) => Type::Exactly(value),
                Err(_) => {
                    let mut given = Vec::new();
                    if self.takes("<") {
                        given.push(self.union());
                        while self.takes(",") {
                            given.push(self.union());
                        }
                        self.expect(">");
                    }
                    Type::Named(word, given)
                }
            },
        };
        while self.takes("[") {
            self.expect("]");
            of = Type::List(Box::new(of));
        }
        of
    }
}

/// Names, texts in quotes and signs, without comments.
fn words(text: &str) -> Vec<String> {
    let mut out = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        let length = if rest.starts_with("/*") {
            rest = rest
                .split_once("*/")
                .expect("a comment ends")
                .1
                .trim_start();
            continue;
        } else if first == '"' {
            2 + rest[1..].find('"').expect("a text ends")
        } else if first.is_alphanumeric() || first == '_' {
            let end = rest.find(|letter: char| !letter.is_alphanumeric() && letter != '_');
            end.unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        out.push(rest[..length].to_owned());
        rest = rest[length..].trim_start();
    }
    out
}
