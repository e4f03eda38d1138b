-- Neovim opens a file, gets findings, edits, hovers, goes to definitions, formats and quits. Run by tests/editors/run.
local function fail(why)
  io.stderr:write('neovim: ' .. why .. '\n')
  vim.cmd('cquit 1')
end

local function wait_for(what, condition)
  if not vim.wait(20000, condition, 10) then
    fail('waited in vain for ' .. what)
  end
end

local function findings(code)
  return vim.tbl_filter(function(found)
    return found.code == code
  end, vim.diagnostic.get(0))
end

local function ask(client, method, params)
  local answer, why = client:request_sync(method, params, 20000, 0)
  if not answer or answer.err then
    fail(method .. ': ' .. vim.inspect(answer and answer.err or why))
  end
  return answer.result
end

local ok, why = xpcall(function()
  vim.cmd.edit(vim.env.WATTLE_SAMPLE)
  wait_for('the server', function()
    local client = vim.lsp.get_clients({ bufnr = 0, name = 'wattle' })[1]
    return client and client.initialized
  end)
  local client = vim.lsp.get_clients({ bufnr = 0, name = 'wattle' })[1]
  assert(client.offset_encoding == 'utf-8', 'the encoding is ' .. client.offset_encoding)
  assert(vim.bo.filetype == 'wattle' and vim.b.current_syntax == 'wattle', 'the file type is not set')

  -- Findings, with a column in bytes behind characters of two and four bytes, each once.
  wait_for('findings', function()
    return #findings('language.unknown-statement') == 1
  end)
  local found = findings('language.unknown-statement')[1]
  assert(found.lnum == 9 and found.col == 18, 'the finding stands at ' .. found.lnum .. ':' .. found.col)
  assert(found.source == 'wattle' and found.severity == vim.diagnostic.severity.ERROR)

  -- Many edits, one after another, and the last one wins.
  for _ = 1, 100 do
    vim.api.nvim_buf_set_text(0, 9, 17, 9, 17, { ' ' })
    vim.api.nvim_buf_set_text(0, 9, 17, 9, 18, { '' })
  end
  vim.api.nvim_buf_set_lines(0, 9, 10, true, { 'let A = "µ😀"', 'nonsense there' })
  wait_for('findings after edits', function()
    local now = findings('language.unknown-statement')
    return #now == 1 and now[1].lnum == 10 and now[1].col == 0
  end)
  vim.api.nvim_buf_set_lines(0, 10, 11, true, {})
  wait_for('no findings', function()
    return #findings('language.unknown-statement') == 0
  end)

  local hover = ask(client, 'textDocument/hover', {
    textDocument = vim.lsp.util.make_text_document_params(0),
    position = { line = 7, character = 5 },
  })
  local page = hover and hover.contents.value or ''
  for _, part in ipairs({ '18 AWG', 'run', 'conductor temperature: ', 'highest fault current: ', 'lowest fault current' }) do
    assert(page:find(part, 1, true), 'the hover lacks ' .. part .. ': ' .. page)
  end

  -- The author's own table of ampacities is read, and read again when it has changed.
  local function with_table(amps, count)
    local path = vim.fs.joinpath(vim.fs.dirname(vim.env.WATTLE_SAMPLE), 'wattle.toml')
    local own = io.lines(vim.env.WATTLE_TABLE)
    local lines = {}
    for text in own do
      table.insert(lines, (text:gsub('AMPS', amps)))
    end
    vim.fn.writefile(lines, path)
    vim.api.nvim_buf_set_lines(0, -1, -1, true, { '# ' .. amps })
    wait_for(count .. ' wires too thin by a table of ' .. amps, function()
      return #findings('wire.undersized') == count
    end)
  end
  with_table('1.5 A', 3)
  assert(findings('wire.undersized')[1].message:find('1.5 A', 1, true), vim.inspect(findings('wire.undersized')))
  with_table('10 A', 0)

  local function definition(line, character)
    local places = ask(client, 'textDocument/definition', {
      textDocument = vim.lsp.util.make_text_document_params(0),
      position = { line = line, character = character },
    })
    assert(places and #places == 1, 'the definition is: ' .. vim.inspect(places))
    return places[1]
  end
  local of_fuse = definition(7, 9)
  assert(of_fuse.uri == vim.uri_from_bufnr(0), 'the fuse is defined in ' .. of_fuse.uri)
  assert(of_fuse.range.start.line == 4 and of_fuse.range.start.character == 5, vim.inspect(of_fuse))

  -- The stock opens as a file of its own, and nothing is found in it.
  local sample = vim.api.nvim_get_current_buf()
  vim.lsp.util.show_document(definition(4, 18), client.offset_encoding, { focus = true })
  assert(vim.api.nvim_get_current_line():find('^part blade%-5 '), vim.api.nvim_get_current_line())
  local of_stock = ask(client, 'textDocument/diagnostic', {
    textDocument = vim.lsp.util.make_text_document_params(0),
  })
  assert(vim.bo.readonly and #of_stock.items == 0, 'in the stock: ' .. vim.inspect(of_stock))
  vim.api.nvim_set_current_buf(sample)

  vim.lsp.buf.format({ async = false, timeout_ms = 20000 })
  local line = vim.api.nvim_buf_get_lines(0, 2, 3, true)[1]
  assert(line == 'place body', 'the layout gives: ' .. line)

  vim.cmd.write()
  client:stop()
  wait_for('the server to stop', function()
    return client:is_stopped()
  end)
end, debug.traceback)

if not ok then
  fail(why)
end
vim.cmd('qall!')
