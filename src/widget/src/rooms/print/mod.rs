//! The printed sheet set: three scaled drawings, then figures, orders, advice, assumptions, workings.
//!
//! `@page` only counts at the top of a document and the host page must not show through, so the set
//! stands in a container of its own at the end of the body, filled only while something is printed. In
//! somebody else's page it stands in a shadow root and takes its style sheets along.

mod sheets;

use drafting::Units;
use drafting::packet::Paper;
use js_sys::{Array, Reflect};
use planting::Scenario;
use wasm_bindgen::JsValue;
use web_sys::{CssStyleSheet, Document, Element, Node, ShadowRootInit, ShadowRootMode};

/// What is behind the door.
#[derive(Clone, Copy)]
pub(crate) struct Print {
    /// Puts the printed set where it is printed from.
    pub(crate) set_out: fn(Wanted),
    /// Takes it away again.
    pub(crate) clear: fn(),
}

/// What is to be printed, and how.
pub(crate) struct Wanted {
    pub(crate) scenario: Scenario,
    pub(crate) units: Units,
    pub(crate) paper: Paper,
    /// The planner's own style sheets, where it stands in somebody else's page; none on its own page, which has them already.
    pub(crate) styles: Option<Array>,
}

door!(print, Print { set_out, clear });

/// The container's id, and the class the document carries while it is filled.
const CONTAINER: &str = "rowlight-print";
const PRINTING: &str = "rowlight-printing";

fn document() -> Option<Document> {
    web_sys::window()?.document()
}

fn container(document: &Document) -> Option<Element> {
    if let Some(found) = document.get_element_by_id(CONTAINER) {
        return Some(found);
    }
    let made = document.create_element("div").ok()?;
    made.set_id(CONTAINER);
    // On the screen it is never seen, whether the sheets' own style sheet is there or not.
    made.set_attribute("hidden", "").ok()?;
    document.body()?.append_child(&made).ok()?;
    Some(made)
}

/// What holds the sheets in the container: itself, or in somebody else's page a shadow root, at which the styles of that page end.
fn holder(container: Element, apart: bool) -> Option<Node> {
    if !apart {
        return Some(container.into());
    }
    let root = match container.shadow_root() {
        Some(root) => root,
        None => container.attach_shadow(&ShadowRootInit::new(ShadowRootMode::Open)).ok()?,
    };
    Some(root.into())
}

/// Sets a property of an object of the browser's.
fn put(object: &JsValue, key: &str, value: &JsValue) {
    // Setting a property these objects have can't fail.
    let _ = Reflect::set(object, &key.into(), value);
}

/// Puts the set into its container, where it isn't filled already.
fn set_out(wanted: Wanted) {
    let Wanted { scenario, units, paper, styles } = wanted;
    let Some(document) = document() else { return };
    let Some(holder) = container(&document).and_then(|container| holder(container, styles.is_some())) else {
        return;
    };
    if holder.has_child_nodes() {
        return;
    }
    // The last plan that works has been checked already.
    let Ok(plan) = planting::plan(&scenario) else { return };
    put(&holder, "innerHTML", &sheets::sheets(&plan, units, paper, &today()).into());
    let rules = constructed(&[STYLES, &sheets::page_rules(&plan, units, paper)].concat());
    if let Some(styles) = styles {
        // A copy: the list is the planner's own.
        let mut styles = Array::from(&styles);
        styles.extend(rules.clone());
        put(&holder, "adoptedStyleSheets", &styles);
    }
    adopt(&document, rules);
    if let Some(root) = document.document_element() {
        let _ = root.class_list().add_1(PRINTING);
    }
}

/// Empties the container.
fn clear() {
    let Some(document) = document() else { return };
    if let Some(container) = document.get_element_by_id(CONTAINER) {
        let apart = container.shadow_root().is_some();
        if let Some(holder) = holder(container, apart) {
            put(&holder, "innerHTML", &"".into());
        }
    }
    if let Some(root) = document.document_element() {
        let _ = root.class_list().remove_1(PRINTING);
    }
    drop_page_rules(&document);
}

/// Marks our own sheet among those the host page has adopted.
const OURS: &str = "rowlightPageRules";

/// The day on the reader's calendar, as ISO 8601 writes it.
fn today() -> String {
    let now = js_sys::Date::new_0();
    format!("{}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}

/// What the sheets look like on paper. It comes with them: a page that is never printed never fetches it.
const STYLES: &str = include_str!("print.css");

/// A style sheet of these rules. A constructed one, because a policy without inline styles drops a `<style>` element.
fn constructed(rules: &str) -> Option<CssStyleSheet> {
    let sheet = CssStyleSheet::new().ok()?;
    sheet.replace_sync(rules).ok()?;
    Some(sheet)
}

/// Gives the document the rules of the sheets, and of the pages' size, margins and numbers, which count only there.
fn adopt(document: &Document, rules: Option<CssStyleSheet>) {
    drop_page_rules(document);
    let Some(sheet) = rules else { return };
    let adopted = Array::from(&document.adopted_style_sheets());
    if Reflect::set(&sheet, &OURS.into(), &JsValue::TRUE).is_ok() {
        adopted.push(&sheet);
    }
    document.set_adopted_style_sheets(&adopted);
}

fn drop_page_rules(document: &Document) {
    let adopted = Array::from(&document.adopted_style_sheets());
    let others = Array::new();
    for sheet in adopted.iter() {
        let is_ours = Reflect::get(&sheet, &OURS.into()).is_ok_and(|mark| mark.is_truthy());
        if !is_ours {
            others.push(&sheet);
        }
    }
    if others.length() != adopted.length() {
        document.set_adopted_style_sheets(&others);
    }
}
