//! The core's public functions, read off its sources: what `lib.rs` leads to by `pub mod` and `pub use`, and the methods of the
//! public types found there, but what is hidden from the documentation or only for tests. Functions that macros write for many types
//! are read off the macros, as `macro NAME::function`.

use crate::doc::first_sentence;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use syn::{Attribute, ImplItem, Item, ItemMacro, Type, UseTree, Visibility};

type Name = Vec<String>;

/// One module: what it defines, and what it takes from elsewhere.
#[derive(Default)]
struct Module {
    /// Names of functions, whether they are public, and what they are said to do.
    functions: BTreeMap<String, (bool, String)>,
    /// Names of types, and whether they are public.
    types: BTreeMap<String, bool>,
    children: BTreeMap<String, bool>,
    /// Name here, path there, and whether it is handed on.
    uses: Vec<(String, Name, bool)>,
    globs: Vec<(Name, bool)>,
    /// Public methods by the type's name as it is written here, and what they are said to do.
    methods: Vec<(String, String, String)>,
}

/// The core's sources.
pub struct Crate {
    modules: BTreeMap<Name, Module>,
    of_macros: BTreeSet<String>,
}

/// For tests, for random documents, or not in the documentation.
pub(crate) fn left_out(attributes: &[Attribute]) -> bool {
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
    /// Reads the sources below a folder.
    ///
    /// # Panics
    /// - a file that is not there or not Rust.
    #[must_use]
    pub fn read(root: &Path) -> Self {
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
                let told = (is_public(&f.vis), first_sentence(&f.attrs));
                here.functions.insert(f.sig.ident.to_string(), told);
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
        let types = module.types.iter().filter(|(_, public)| **public).map(|(name, _)| name.clone());
        let functions = module.functions.iter().filter(|(_, (public, _))| *public);
        let own = types.chain(functions.map(|(name, _)| name.clone()));
        let handed = module.uses.iter().filter(|(.., public)| *public).map(|(name, ..)| name.clone());
        let mut all: Vec<(String, Name)> =
            own.chain(handed).filter_map(|name| Some((name.clone(), self.defined(at, &name, 0)?))).collect();
        for (path, _) in module.globs.iter().filter(|(_, public)| *public) {
            all.extend(self.shown(path));
        }
        all
    }

    /// Every public function by its path, and the first sentence of its documentation.
    ///
    /// # Panics
    /// - sources that do not compile either.
    #[must_use]
    pub fn public_functions(&self) -> BTreeMap<String, String> {
        let mut methods = BTreeMap::<Name, BTreeMap<&str, &str>>::new();
        for (at, module) in &self.modules {
            for (of, method, told) in &module.methods {
                if let Some(of) = self.defined(at, of, 0) {
                    methods.entry(of).or_default().insert(method, told);
                }
            }
        }
        let mut all: BTreeMap<String, String> =
            self.of_macros.iter().map(|name| (name.clone(), String::new())).collect();
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
                if let Some((_, told)) = self.modules[parents].functions.get(last) {
                    all.insert(path.clone(), told.clone());
                }
                for (method, told) in methods.get(&defined).into_iter().flatten() {
                    all.insert(format!("{path}::{method}"), (*told).to_owned());
                }
            }
        }
        all
    }
}

/// The type that `group! { /// … Name { … } }` makes: the first name.
pub(crate) fn type_of_macro(m: &ItemMacro) -> Option<String> {
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
            here.methods.push((of.ident.to_string(), f.sig.ident.to_string(), first_sentence(&f.attrs)));
        }
    }
}
