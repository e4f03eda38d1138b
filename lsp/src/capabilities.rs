//! Settles with the client what each can do. Pure.

use tower_lsp::lsp_types::{
    ClientCapabilities, DeclarationCapability, DiagnosticOptions, DiagnosticServerCapabilities,
    InitializeResult, MarkupKind, OneOf, PositionEncodingKind, ServerCapabilities, ServerInfo,
    TextDocumentClientCapabilities, TextDocumentSyncCapability, TextDocumentSyncKind,
    TextDocumentSyncOptions, WorkspaceFoldersServerCapabilities, WorkspaceServerCapabilities,
};
use wattle_grammar::line_index::Encoding;

use crate::abilities::Abilities;

/// What the server answers to `initialize`, and what it keeps in mind about the client.
#[must_use]
pub fn negotiate(client: &ClientCapabilities) -> (InitializeResult, Abilities) {
    let abilities = abilities(client);
    let capabilities = ServerCapabilities {
        position_encoding: offered(client).map(|_| kind(abilities.encoding)),
        text_document_sync: Some(TextDocumentSyncCapability::Options(TextDocumentSyncOptions {
            open_close: Some(true),
            change: Some(TextDocumentSyncKind::INCREMENTAL),
            save: Some(true.into()),
            ..TextDocumentSyncOptions::default()
        })),
        hover_provider: Some(true.into()),
        definition_provider: Some(OneOf::Left(true)),
        declaration_provider: Some(DeclarationCapability::Simple(true)),
        type_definition_provider: Some(true.into()),
        document_formatting_provider: Some(OneOf::Left(true)),
        diagnostic_provider: abilities.pulls.then(diagnostic_provider),
        workspace: Some(WorkspaceServerCapabilities {
            workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                supported: Some(true),
                change_notifications: Some(OneOf::Left(true)),
            }),
            file_operations: None,
        }),
        ..ServerCapabilities::default()
    };
    let server_info =
        ServerInfo { name: "wattle-lsp".to_owned(), version: Some(env!("CARGO_PKG_VERSION").to_owned()) };
    (InitializeResult { capabilities, server_info: Some(server_info) }, abilities)
}

/// A file's findings depend on the files it uses and is used by.
fn diagnostic_provider() -> DiagnosticServerCapabilities {
    DiagnosticServerCapabilities::Options(DiagnosticOptions {
        identifier: Some("wattle".to_owned()),
        inter_file_dependencies: true,
        workspace_diagnostics: false,
        ..DiagnosticOptions::default()
    })
}

fn abilities(client: &ClientCapabilities) -> Abilities {
    let none = TextDocumentClientCapabilities::default();
    let document = client.text_document.as_ref().unwrap_or(&none);
    let publish = document.publish_diagnostics.as_ref();
    let workspace = client.workspace.as_ref();
    let refresh = workspace.and_then(|workspace| workspace.diagnostic.as_ref());
    let watch = workspace.and_then(|workspace| workspace.did_change_watched_files.as_ref());
    Abilities {
        encoding: encoding(client),
        pulls: document.diagnostic.is_some(),
        refreshes: refresh.and_then(|refresh| refresh.refresh_support).unwrap_or(false),
        related: publish.and_then(|publish| publish.related_information).unwrap_or(false),
        data: publish.and_then(|publish| publish.data_support).unwrap_or(false),
        markdown: takes_markdown(document),
        watches: watch.and_then(|watch| watch.dynamic_registration).unwrap_or(false),
    }
}

/// The client's first choice decides, as the protocol has it: it lists the formats in its order of preference.
fn takes_markdown(document: &TextDocumentClientCapabilities) -> bool {
    let formats = document.hover.as_ref().and_then(|hover| hover.content_format.as_ref());
    formats.and_then(|formats| formats.first()).is_some_and(|first| *first == MarkupKind::Markdown)
}

fn offered(client: &ClientCapabilities) -> Option<&Vec<PositionEncodingKind>> {
    client.general.as_ref()?.position_encodings.as_ref()
}

/// Bytes where the client counts bytes, for they need no conversion; else what every client must take, unless it
/// offers only characters.
fn encoding(client: &ClientCapabilities) -> Encoding {
    let Some(offered) = offered(client) else { return Encoding::Utf16 };
    if offered.contains(&PositionEncodingKind::UTF8) {
        Encoding::Utf8
    } else if offered.contains(&PositionEncodingKind::UTF32)
        && !offered.contains(&PositionEncodingKind::UTF16)
    {
        Encoding::Utf32
    } else {
        Encoding::Utf16
    }
}

const fn kind(encoding: Encoding) -> PositionEncodingKind {
    match encoding {
        Encoding::Utf8 => PositionEncodingKind::UTF8,
        Encoding::Utf16 => PositionEncodingKind::UTF16,
        Encoding::Utf32 => PositionEncodingKind::UTF32,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;

    fn negotiated(capabilities: Value) -> (ServerCapabilities, Abilities) {
        let client = serde_json::from_value(capabilities).expect("capabilities");
        let (result, abilities) = negotiate(&client);
        (result.capabilities, abilities)
    }

    #[test]
    fn a_client_that_says_nothing_counts_utf16_and_is_pushed_to() {
        let (server, abilities) = negotiated(json!({}));
        assert_eq!(abilities, Abilities::default());
        assert_eq!(server.position_encoding, None);
        assert_eq!(server.diagnostic_provider, None);
    }

    #[test]
    fn only_an_offered_encoding_is_answered() {
        let rows = [
            (json!(["utf-8", "utf-16", "utf-32"]), "utf-8", Encoding::Utf8),
            (json!(["utf-32", "utf-8", "utf-16"]), "utf-8", Encoding::Utf8),
            (json!(["utf-16"]), "utf-16", Encoding::Utf16),
            (json!(["utf-32", "utf-16"]), "utf-16", Encoding::Utf16),
            (json!(["utf-32"]), "utf-32", Encoding::Utf32),
        ];
        for (offered, answered, encoding) in rows {
            let (server, abilities) = negotiated(json!({"general": {"positionEncodings": offered}}));
            assert_eq!(server.position_encoding.as_ref().map(PositionEncodingKind::as_str), Some(answered));
            assert_eq!(abilities.encoding, encoding);
        }
    }

    #[test]
    fn a_client_that_pulls_gets_a_provider() {
        let (server, abilities) = negotiated(json!({"textDocument": {"diagnostic": {}}}));
        assert!(abilities.pulls);
        assert!(server.diagnostic_provider.is_some());
    }

    #[test]
    fn the_first_format_decides_on_markdown() {
        for (formats, markdown) in
            [(json!(["markdown", "plaintext"]), true), (json!(["plaintext", "markdown"]), false)]
        {
            let (_, abilities) = negotiated(json!({"textDocument": {"hover": {"contentFormat": formats}}}));
            assert_eq!(abilities.markdown, markdown);
        }
    }
}
