//! The protocol's methods: convert in, tell or ask the worker, convert out. No logic, and no method that changes the
//! state waits for anything, because the library runs several at once and a waiting one would be overtaken.

use std::{
    sync::atomic::{AtomicBool, Ordering},
    time::Duration,
};

use tokio::{sync::mpsc::UnboundedReceiver, time::timeout};
use tower_lsp::{
    Client, LanguageServer,
    jsonrpc::{Error, Result},
    lsp_types::{
        DidChangeTextDocumentParams, DidChangeWatchedFilesParams, DidChangeWatchedFilesRegistrationOptions,
        DidChangeWorkspaceFoldersParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams,
        DidSaveTextDocumentParams, DocumentDiagnosticParams, DocumentDiagnosticReportResult,
        DocumentFormattingParams, FileSystemWatcher, GlobPattern, GotoDefinitionParams,
        GotoDefinitionResponse, Hover, HoverParams, InitializeParams, InitializeResult, InitializedParams,
        MessageType, Registration, TextDocumentPositionParams, TextEdit, Url,
    },
};

use crate::{
    capabilities, convert,
    feature::{
        definition::{self, Target},
        diagnostics, formatting, hover,
    },
    snapshot::Snapshot,
    state::{Event, Outgoing, Publication},
    stock_copy,
    worker::{Need, Unanswered, Worker},
};

/// A client that does not answer a request of ours is not waited for longer than this.
const PATIENCE: Duration = Duration::from_secs(10);

/// The server: a way to the worker.
pub struct Server {
    worker: Worker,
    told_of_stock: AtomicBool,
}

impl Server {
    /// A server in front of a worker.
    #[must_use]
    pub const fn new(worker: Worker) -> Self {
        Self { worker, told_of_stock: AtomicBool::new(false) }
    }

    /// Has a feature look at a document. A document that is not open has no answer.
    async fn ask<T, F>(&self, uri: &Url, need: Need, feature: F) -> Result<Option<T>>
    where
        T: Send + 'static,
        F: FnOnce(&Snapshot) -> Option<T> + Send + 'static,
    {
        match self.worker.ask(convert::path(uri), need, feature).await {
            Ok(answer) => Ok(answer),
            Err(Unanswered::NotOpen) => Ok(None),
            Err(Unanswered::Failed) => Err(Error::internal_error()),
        }
    }

    /// Has a feature look for places, and makes sure of the copy of the stock if one of them is there.
    async fn go_to(
        &self,
        params: TextDocumentPositionParams,
        find: fn(&Snapshot, u32) -> Vec<Target>,
    ) -> Result<Option<GotoDefinitionResponse>> {
        let (uri, at) = convert::document_and_place(params);
        let look = move |snapshot: &Snapshot| {
            let targets = find(snapshot, snapshot.offset(at));
            let copy = targets.iter().any(Target::is_stock).then(stock_copy::file);
            let path = copy.as_ref().and_then(|copy| copy.as_deref().ok());
            let places = convert::locations(&targets, path, snapshot.encoding());
            Some((places, copy.and_then(std::result::Result::err)))
        };
        let Some((places, trouble)) = self.ask(&uri, Need::Figures, look).await? else { return Ok(None) };
        trouble.into_iter().for_each(|sentence| self.log_once(sentence));
        Ok(places)
    }

    /// Tells the client of trouble with the stock, the first time only: it would be the same each time.
    fn log_once(&self, sentence: String) {
        if !self.told_of_stock.swap(true, Ordering::Relaxed) {
            self.worker.log(sentence);
        }
    }
}

#[tower_lsp::async_trait]
impl LanguageServer for Server {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        let (result, abilities) = capabilities::negotiate(&params.capabilities);
        self.worker.tell(Event::Started(abilities, convert::folders(&params)));
        Ok(result)
    }

    async fn initialized(&self, _: InitializedParams) {
        self.worker.tell(Event::Ready);
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn did_open(&self, params: DidOpenTextDocumentParams) {
        let document = params.text_document;
        let path = convert::path(&document.uri);
        self.worker.tell(Event::Opened(path, document.uri.into(), document.version, document.text));
    }

    async fn did_change(&self, params: DidChangeTextDocumentParams) {
        let (document, changes) = (params.text_document, convert::changes(params.content_changes));
        self.worker.tell(Event::Changed(convert::path(&document.uri), document.version, changes));
    }

    async fn did_close(&self, params: DidCloseTextDocumentParams) {
        self.worker.tell(Event::Closed(convert::path(&params.text_document.uri)));
    }

    async fn did_save(&self, _: DidSaveTextDocumentParams) {
        self.worker.tell(Event::Saved);
    }

    async fn did_change_watched_files(&self, _: DidChangeWatchedFilesParams) {
        self.worker.tell(Event::DiskChanged);
    }

    async fn did_change_workspace_folders(&self, params: DidChangeWorkspaceFoldersParams) {
        let event = params.event;
        let (added, removed) = (convert::folder_paths(&event.added), convert::folder_paths(&event.removed));
        self.worker.tell(Event::Folders(added, removed));
    }

    async fn diagnostic(&self, params: DocumentDiagnosticParams) -> Result<DocumentDiagnosticReportResult> {
        let report = |snapshot: &Snapshot| Some(convert::report(&diagnostics::of(snapshot), snapshot));
        let answer = self.ask(&params.text_document.uri, Need::Figures, report).await?;
        Ok(answer.unwrap_or_else(convert::empty_report))
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        let (uri, at) = convert::document_and_place(params.text_document_position_params);
        let look = move |snapshot: &Snapshot| hover::hover(snapshot, snapshot.offset(at));
        self.ask(&uri, Need::Figures, move |snapshot| Some(convert::hover(&look(snapshot)?, snapshot))).await
    }

    async fn goto_definition(&self, params: GotoDefinitionParams) -> Result<Option<GotoDefinitionResponse>> {
        self.go_to(params.text_document_position_params, definition::definition).await
    }

    async fn goto_declaration(&self, params: GotoDefinitionParams) -> Result<Option<GotoDefinitionResponse>> {
        self.go_to(params.text_document_position_params, definition::definition).await
    }

    async fn goto_type_definition(
        &self,
        params: GotoDefinitionParams,
    ) -> Result<Option<GotoDefinitionResponse>> {
        self.go_to(params.text_document_position_params, definition::type_definition).await
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        let format = |snapshot: &Snapshot| Some(convert::edits(formatting::formatting(snapshot), snapshot));
        self.ask(&params.text_document.uri, Need::Text, format).await
    }
}

/// Sends to the client what the worker has for it, in order.
pub async fn deliver(client: Client, mut outbox: UnboundedReceiver<Outgoing>) {
    while let Some(outgoing) = outbox.recv().await {
        match outgoing {
            Outgoing::Publish(publication) => publish(&client, &publication).await,
            Outgoing::Log(sentence) => client.log_message(MessageType::WARNING, sentence).await,
            Outgoing::Refresh => spawn_refresh(client.clone()),
            Outgoing::Watch => spawn_watch(client.clone()),
        }
    }
}

async fn publish(client: &Client, publication: &Publication) {
    if let Some(params) = convert::publication(publication) {
        client.publish_diagnostics(params.uri, params.diagnostics, params.version).await;
    }
}

/// Requests to the client run on their own: its answer must never be waited for by what it answers after.
fn spawn_refresh(client: Client) {
    tokio::spawn(async move { timeout(PATIENCE, client.workspace_diagnostic_refresh()).await });
}

fn spawn_watch(client: Client) {
    tokio::spawn(async move { timeout(PATIENCE, client.register_capability(vec![watching()])).await });
}

fn watching() -> Registration {
    let watcher = |pattern: &str| FileSystemWatcher {
        glob_pattern: GlobPattern::String(pattern.to_owned()),
        kind: None,
    };
    let options = DidChangeWatchedFilesRegistrationOptions {
        watchers: vec![watcher("**/*.wattle"), watcher("**/wattle.toml")],
    };
    Registration {
        id: "wattle-files".to_owned(),
        method: "workspace/didChangeWatchedFiles".to_owned(),
        register_options: serde_json::to_value(options).ok(),
    }
}
