-- Starts the language server for a Wattle file, or joins the one that already serves its folder.
vim.bo.commentstring = '# %s'
vim.opt_local.iskeyword:append('-')

local name = vim.api.nvim_buf_get_name(0)
local marks = vim.fs.find({ 'wattle.toml', '.git' }, { upward = true, path = vim.fs.dirname(name) })

vim.lsp.start({
  name = 'wattle',
  cmd = { vim.g.wattle_server or 'wattle-lsp', '--stdio' },
  root_dir = marks[1] and vim.fs.dirname(marks[1]) or vim.fs.dirname(name),
})
