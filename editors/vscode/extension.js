// Starts the Wattle language server for every Wattle file.
const { workspace } = require('vscode')
const { LanguageClient, TransportKind } = require('vscode-languageclient/node')

let client

function activate() {
  const command = workspace.getConfiguration('wattle').get('server')
  const server = { command, transport: TransportKind.stdio }
  client = new LanguageClient('wattle', 'Wattle', server, { documentSelector: [{ language: 'wattle' }] })
  return client.start()
}

function deactivate() {
  return client?.stop()
}

module.exports = { activate, deactivate }
