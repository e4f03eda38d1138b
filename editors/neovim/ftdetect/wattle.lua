vim.filetype.add({ extension = { wattle = 'wattle' } })
