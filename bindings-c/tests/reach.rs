//! Every public function of the core is reachable from C, or the list `reach.txt` says why not.
//!
//! The functions are read off the core's sources: what `lib.rs` leads to by `pub mod` and `pub use`, and the methods of the public
//! types found there, but what is hidden from the documentation or only for tests. Functions that macros write for many types are read
//! off the macros, as `macro NAME::function`.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use syn::{Attribute, ImplItem, Item, ItemMacro, Type, UseTree, Visibility};

type Name = Vec<String>;

/// One module: what it defines, and what it takes from elsewhere.
#[derive(Default)]
struct Module {
    /// Names of functions and types, and whether they are public.
    functions: BTreeMap<String, bool>,
    types: BTreeMap<String, bool>,
    children: BTreeMap<String, bool>,
    /// Name here, path there, and whether it is handed on.
    uses: Vec<(String, Name, bool)>,
    globs: Vec<(Name, bool)>,
    /// Public methods by the type's name as it is written here.
    methods: Vec<(String, String)>,
}

struct Crate {
    modules: BTreeMap<Name, Module>,
    of_macros: BTreeSet<String>,
}

/// For tests, for random documents, or not in the documentation.
fn left_out(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|a| {
        let text = match &a.meta {
            syn::Meta::List(list) => list.tokens.to_string(),
            _ => String::new(),
        };
        let generate = text.contains("\"generate\"") || text == "test" || text == "doctest";
        a.path().is_ident("cfg") && generate || a.path().is_ident("doc") && text == "hidden"
    })
}

fn is_public(visibility: &Visibility) -> bool {
    matches!(visibility, Visibility::Public(_))
}

impl Crate {
    fn read(root: &Path) -> Self {
        let mut all = Self { modules: BTreeMap::new(), of_macros: BTreeSet::new() };
        all.file(&root.join("lib.rs"), root, &[]);
        all
    }

    fn file(&mut self, path: &Path, children: &Path, at: &[String]) {
        let text = std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let file = syn::parse_file(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        self.items(&file.items, children, at);
    }

    fn items(&mut self, items: &[Item], folder: &Path, at: &[String]) {
        let mut here = Module::default();
        for item in items {
            self.item(item, folder, at, &mut here);
        }
        self.modules.insert(at.to_vec(), here);
    }

    fn item(&mut self, item: &Item, folder: &Path, at: &[String], here: &mut Module) {
        match item {
            Item::Fn(f) if !left_out(&f.attrs) => {
                here.functions.insert(f.sig.ident.to_string(), is_public(&f.vis));
            }
            Item::Struct(s) if !left_out(&s.attrs) => {
                here.types.insert(s.ident.to_string(), is_public(&s.vis));
            }
            Item::Enum(e) if !left_out(&e.attrs) => {
                here.types.insert(e.ident.to_string(), is_public(&e.vis));
            }
            Item::Trait(t) if !left_out(&t.attrs) => {
                here.types.insert(t.ident.to_string(), is_public(&t.vis));
            }
            Item::Type(t) if !left_out(&t.attrs) => {
                here.types.insert(t.ident.to_string(), is_public(&t.vis));
            }
            Item::Use(u) if !left_out(&u.attrs) => {
                use_tree(&u.tree, &mut Vec::new(), is_public(&u.vis), at, here);
            }
            Item::Impl(i) if i.trait_.is_none() && !left_out(&i.attrs) => methods(i, here),
            Item::Mod(m) if !left_out(&m.attrs) => {
                let name = m.ident.to_string();
                here.children.insert(name.clone(), is_public(&m.vis));
                let mut path = at.to_vec();
                path.push(name.clone());
                match &m.content {
                    Some((_, items)) => self.items(items, &folder.join(&name), &path),
                    None => {
                        let flat = folder.join(format!("{name}.rs"));
                        let file = if flat.exists() { flat } else { folder.join(&name).join("mod.rs") };
                        self.file(&file, &folder.join(&name), &path);
                    }
                }
            }
            Item::Macro(m) => {
                self.functions_of_macro(m);
                if m.mac.path.is_ident("group") || m.mac.path.is_ident("choice") {
                    here.types.extend(type_of_macro(m).map(|name| (name, true)));
                }
            }
            _ => {}
        }
    }

    /// `pub fn` in the text of a `macro_rules!`, whose types are many.
    fn functions_of_macro(&mut self, m: &ItemMacro) {
        let Some(name) = &m.ident else { return };
        let text = m.mac.tokens.to_string();
        let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || c == '(' || c == '<').collect();
        for (i, word) in words.iter().enumerate() {
            let public = words[i.saturating_sub(2)..i].contains(&"pub");
            if *word == "fn" && public && words.get(i + 1).is_some_and(|f| !f.is_empty()) {
                self.of_macros.insert(format!("macro {name}::{}", words[i + 1]));
            }
        }
    }

    /// Where a name of a module is defined.
    fn defined(&self, at: &[String], name: &str, depth: usize) -> Option<Name> {
        let module = self.modules.get(at)?;
        let full = || at.iter().cloned().chain([name.to_owned()]).collect::<Name>();
        if depth > 20 {
            return None;
        }
        if module.types.contains_key(name) || module.functions.contains_key(name) {
            return Some(full());
        }
        for (_, path, _) in module.uses.iter().filter(|(n, ..)| n == name) {
            let (last, parents) = path.split_last()?;
            if let Some(found) = self.module(parents).and_then(|m| self.defined(&m, last, depth + 1)) {
                return Some(found);
            }
        }
        module.globs.iter().find_map(|(path, _)| self.defined(&self.module(path)?, name, depth + 1))
    }

    /// A path that may lead through names that other modules hand on.
    fn module(&self, path: &[String]) -> Option<Name> {
        self.modules.contains_key(path).then(|| path.to_vec())
    }

    /// The names that a module shows to other crates, and where each is defined.
    fn shown(&self, at: &[String]) -> Vec<(String, Name)> {
        let module = &self.modules[at];
        let own = module.types.iter().chain(&module.functions).filter(|(_, public)| **public);
        let own = own.map(|(name, _)| name.clone());
        let handed = module.uses.iter().filter(|(.., public)| *public).map(|(name, ..)| name.clone());
        let mut all: Vec<(String, Name)> =
            own.chain(handed).filter_map(|name| Some((name.clone(), self.defined(at, &name, 0)?))).collect();
        for (path, _) in module.globs.iter().filter(|(_, public)| *public) {
            all.extend(self.shown(path));
        }
        all
    }

    fn public_functions(&self) -> BTreeSet<String> {
        let mut methods = BTreeMap::<Name, BTreeSet<&str>>::new();
        for (at, module) in &self.modules {
            for (of, method) in &module.methods {
                if let Some(of) = self.defined(at, of, 0) {
                    methods.entry(of).or_default().insert(method);
                }
            }
        }
        let mut all = self.of_macros.clone();
        let mut open: Vec<Name> = vec![Vec::new()];
        let mut told = BTreeSet::new();
        while let Some(at) = open.pop() {
            let module = &self.modules[&at];
            for (child, _) in module.children.iter().filter(|(_, public)| **public) {
                open.push(at.iter().cloned().chain([child.clone()]).collect());
            }
            for (name, defined) in self.shown(&at) {
                // Under the first room that shows it, which is the one it lives in.
                let home = at.first().is_none_or(|room| defined.first() == Some(room));
                if !home || !told.insert((defined.clone(), name.clone())) {
                    continue;
                }
                let path = at.iter().chain([&name]).cloned().collect::<Vec<_>>().join("::");
                let (last, parents) = defined.split_last().unwrap();
                if self.modules[parents].functions.contains_key(last) {
                    all.insert(path.clone());
                }
                for method in methods.get(&defined).into_iter().flatten() {
                    all.insert(format!("{path}::{method}"));
                }
            }
        }
        all
    }
}

/// The type that `group! { /// … Name { … } }` makes: the first name.
fn type_of_macro(m: &ItemMacro) -> Option<String> {
    m.mac.tokens.clone().into_iter().find_map(|token| match token {
        proc_macro2::TokenTree::Ident(name) => Some(name.to_string()),
        _ => None,
    })
}

fn use_tree(tree: &UseTree, path: &mut Name, public: bool, at: &[String], here: &mut Module) {
    // From the crate's root.
    let absolute = |path: &[String]| {
        let mut out = at.to_vec();
        let mut rest = path;
        match rest.first().map(String::as_str) {
            Some("crate") => {
                out.clear();
                rest = &rest[1..];
            }
            Some("self") => rest = &rest[1..],
            Some("super") => {
                while rest.first().is_some_and(|p| p == "super") {
                    out.pop();
                    rest = &rest[1..];
                }
            }
            _ => {}
        }
        out.extend_from_slice(rest);
        out
    };
    match tree {
        UseTree::Path(p) => {
            path.push(p.ident.to_string());
            use_tree(&p.tree, path, public, at, here);
            path.pop();
        }
        UseTree::Group(group) => group.items.iter().for_each(|t| use_tree(t, path, public, at, here)),
        UseTree::Glob(_) => here.globs.push((absolute(path), public)),
        UseTree::Name(n) => {
            path.push(n.ident.to_string());
            here.uses.push((n.ident.to_string(), absolute(path), public));
            path.pop();
        }
        UseTree::Rename(r) => {
            path.push(r.ident.to_string());
            here.uses.push((r.rename.to_string(), absolute(path), public));
            path.pop();
        }
    }
}

fn methods(i: &syn::ItemImpl, here: &mut Module) {
    let Type::Path(of) = &*i.self_ty else { return };
    let Some(of) = of.path.segments.last() else { return };
    for item in &i.items {
        if let ImplItem::Fn(f) = item
            && is_public(&f.vis)
            && !left_out(&f.attrs)
        {
            here.methods.push((of.ident.to_string(), f.sig.ident.to_string()));
        }
    }
}

/// One line of the list: a function, and what it says of it.
struct Line<'a> {
    number: usize,
    what: &'a str,
    how: &'a str,
}

fn read_list(text: &str) -> Vec<Line<'_>> {
    let lines = text.lines().enumerate().filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    lines
        .map(|(i, line)| {
            let (what, how) = line.split_once(" = ").unwrap_or_else(|| panic!("line {}: no ' = '", i + 1));
            Line { number: i + 1, what: what.trim(), how: how.trim() }
        })
        .collect()
}

#[test]
fn every_public_function_is_reachable_or_says_why_not() {
    let package = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let functions = Crate::read(&package.join("../core/src")).public_functions();
    // What the sources are read for is found: a function, a method in another file than its type, a method of a macro.
    for known in [
        "layout::fret_positions_mm",
        "shape::Neck::carving_plan",
        "shape::Neck::thickness_mm",
        "macro options::bounds",
    ] {
        assert!(functions.contains(known), "{known} was not found");
    }
    let list = std::fs::read_to_string(package.join("tests/reach.txt")).unwrap();
    let header = std::fs::read_to_string(package.join("include/neckwright.h")).unwrap();
    let declared: BTreeSet<&str> = words(&header).filter(|word| word.starts_with("nw_")).collect();
    let names =
        std::fs::read_to_string(package.join("../core/tests/snapshots/results__the_names_of_results.snap"));
    let names = names.unwrap();

    let lines = read_list(&list);
    let mut used = BTreeSet::new();
    let mut wrong = Vec::new();
    for function in &functions {
        match lines.iter().find(|line| line.what == function) {
            Some(line) => drop(used.insert(line.number)),
            None => wrong.push(format!("{function} is not in the list")),
        }
    }
    for line in &lines {
        let Line { number, what, how } = line;
        if !used.contains(number) {
            wrong.push(format!("line {number}: {what} is no public function"));
        }
        let missing = |word: &&str| {
            // `nw_plan_wood_*` stands for a family.
            let family = word.ends_with('_') && declared.iter().any(|d| d.starts_with(word));
            word.starts_with("nw_") && !declared.contains(word) && !family
        };
        for name in words(how).filter(missing) {
            wrong.push(format!("line {number}: the header has no {name}"));
        }
        let fields =
            how.split_whitespace().filter_map(|word| word.trim_end_matches([',', ';']).strip_prefix('/'));
        for field in fields.filter(|field| !names.contains(&format!("/{field}: "))) {
            wrong.push(format!("line {number}: no document has a field {field}"));
        }
    }
    let twice = lines.windows(2).filter(|pair| pair[0].what == pair[1].what);
    wrong.extend(twice.map(|pair| format!("line {}: {} twice", pair[1].number, pair[1].what)));
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').filter(|word| !word.is_empty())
}
