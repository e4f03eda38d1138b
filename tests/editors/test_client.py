"""A typed client of other people's making, once with the abilities of each of three editors. Run by tests/editors/run."""

import os
import pathlib
from urllib.parse import unquote, urlparse

import pytest
import pytest_lsp
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient, client_capabilities

TABLE = pathlib.Path(os.environ["WATTLE_TABLE"])
SAMPLE = pathlib.Path(os.environ["WATTLE_SAMPLE"])
URI = SAMPLE.as_uri()
SETTINGS = SAMPLE.parent / "wattle.toml"
CODE = "language.unknown-statement"
WIDTHS = {"utf-8": 18, "utf-16": 15, "utf-32": 14}


@pytest_lsp.fixture(
    config=ClientServerConfig(server_command=["wattle-lsp", "--stdio"]),
    params=["neovim", "visual-studio-code", "emacs"],
)
async def client(request, lsp_client: LanguageClient):
    params = types.InitializeParams(
        capabilities=client_capabilities(request.param),
        process_id=os.getpid(),
        workspace_folders=[types.WorkspaceFolder(uri=SAMPLE.parent.as_uri(), name="sample")],
    )

    # The sets of abilities say that files are watched, and the client leaves it to the test to take the request.
    @lsp_client.feature(types.CLIENT_REGISTER_CAPABILITY)
    def register(params: types.RegistrationParams):
        assert [item.method for item in params.registrations] == [types.WORKSPACE_DID_CHANGE_WATCHED_FILES]

    lsp_client.told = await lsp_client.initialize_session(params)
    lsp_client.pulls = params.capabilities.text_document.diagnostic is not None
    yield
    await lsp_client.shutdown_session()


async def findings(client: LanguageClient):
    """The findings as this client gets them: pulled, or pushed."""
    if client.pulls:
        params = types.DocumentDiagnosticParams(text_document=types.TextDocumentIdentifier(uri=URI))
        report = await client.text_document_diagnostic_async(params)
        assert not client.diagnostics.get(URI), "told twice"
        return report.items
    await client.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
    return client.diagnostics[URI]


def open_sample(client: LanguageClient):
    text = SAMPLE.read_text(encoding="utf-8")
    item = types.TextDocumentItem(uri=URI, language_id="wattle", version=1, text=text)
    client.text_document_did_open(types.DidOpenTextDocumentParams(text_document=item))
    return text


def edit(client: LanguageClient, version: int, change):
    document = types.VersionedTextDocumentIdentifier(uri=URI, version=version)
    client.text_document_did_change(
        types.DidChangeTextDocumentParams(text_document=document, content_changes=[change])
    )


@pytest.mark.asyncio
async def test_findings_edit_hover_format(client: LanguageClient):
    open_sample(client)
    found = [item for item in await findings(client) if item.code == CODE]
    assert len(found) == 1
    encoding = client.told.capabilities.position_encoding or "utf-16"
    assert found[0].range.start == types.Position(line=9, character=WIDTHS[encoding])
    assert found[0].source == "wattle"

    start = found[0].range.start
    end = types.Position(line=10, character=0)
    change = types.TextDocumentContentChangePartial(range=types.Range(start=start, end=end), text="\n")
    edit(client, 2, change)
    assert [item for item in await findings(client) if item.code == CODE] == []

    place = types.HoverParams(
        text_document=types.TextDocumentIdentifier(uri=URI), position=types.Position(line=7, character=5)
    )
    hover = await client.text_document_hover_async(place)
    for part in ("18 AWG", "conductor temperature: ", "highest fault current: ", "lowest fault current"):
        assert part in hover.contents.value
    assert hover.range.start == types.Position(line=7, character=5)

    document = types.TextDocumentIdentifier(uri=URI)
    fuse = types.DefinitionParams(text_document=document, position=types.Position(line=7, character=9))
    places = await client.text_document_definition_async(fuse)
    assert [(place.uri, place.range.start) for place in places] == [(URI, types.Position(line=4, character=5))]
    part = types.DefinitionParams(text_document=document, position=types.Position(line=4, character=18))
    (stock,) = await client.text_document_definition_async(part)
    line = pathlib.Path(unquote(urlparse(stock.uri).path)).read_text(encoding="utf-8").splitlines()
    assert line[stock.range.start.line].startswith("part blade-5 ")

    options = types.FormattingOptions(tab_size=2, insert_spaces=True)
    edits = await client.text_document_formatting_async(
        types.DocumentFormattingParams(text_document=document, options=options)
    )
    indent = types.Range(start=types.Position(line=2, character=0), end=types.Position(line=2, character=3))
    assert types.TextEdit(range=indent, new_text="") in edits

    client.text_document_did_close(types.DidCloseTextDocumentParams(text_document=document))
    assert client.error is None


def set_table(client: LanguageClient, amps: str):
    """Writes a table of the author's own, and tells the server as a client does that watches files."""
    kind = types.FileChangeType.Changed if SETTINGS.exists() else types.FileChangeType.Created
    SETTINGS.write_text(TABLE.read_text(encoding="utf-8").replace("AMPS", amps), encoding="utf-8")
    changes = [types.FileEvent(uri=SETTINGS.as_uri(), type=kind)]
    client.workspace_did_change_watched_files(types.DidChangeWatchedFilesParams(changes=changes))


@pytest.mark.asyncio
async def test_own_table_of_ampacities(client: LanguageClient):
    text = open_sample(client)
    await findings(client)
    assert "nonsense" in text.splitlines()[9]
    start, end = types.Position(line=9, character=0), types.Position(line=10, character=0)
    change = types.TextDocumentContentChangePartial(range=types.Range(start=start, end=end), text="\n")
    edit(client, 2, change)
    assert list(await findings(client)) == []
    try:
        set_table(client, "1.5 A")
        thin = await findings(client)
        assert [item.code for item in thin] == ["wire.undersized"] * 3
        assert all("1.5 A" in item.message for item in thin)
        set_table(client, "10 A")
        assert list(await findings(client)) == []
    finally:
        SETTINGS.unlink(missing_ok=True)
    assert client.error is None
