//! What ends a statement or a setting: line ends, semicolons, braces; and what does not.

use super::{DEEPEST, MOST_OPERATORS, Reader, Sign, Stretch, Token, TokenKind, Word, complaint};

impl Reader<'_> {
    pub(super) fn newline(&mut self, token: Token) {
        self.at += 1;
        self.line_start = token.end;
        if self.last() == Some(Sign::Comma) && self.at > self.joined {
            // Remembered up to the token it goes on with, so that many comment lines are passed over once.
            self.joined = self.continuation().unwrap_or(self.joined);
        }
        if self.at > self.joined {
            self.end(token.start);
        }
    }

    pub(super) fn semicolon(&mut self, token: Token) {
        self.at += 1;
        self.end(token.start);
    }

    /// The token that a line that ends in a comma goes on with: no brace, and no statement that is no deeper.
    fn continuation(&self) -> Option<usize> {
        let mut line_start = self.line_start;
        for (offset, next) in self.tokens.get(self.at..)?.iter().enumerate() {
            match next.kind {
                TokenKind::Newline => line_start = next.end,
                TokenKind::Space | TokenKind::Comment => {}
                TokenKind::CloseBrace => return None,
                _ if self.begins_statement(*next) && next.start - line_start <= self.indent => return None,
                _ => return Some(self.at + offset),
            }
        }
        None
    }

    fn begins_statement(&self, token: Token) -> bool {
        token.kind == TokenKind::Word && Word::at_start(self.slice(token.start, token.end)).begins_statement()
    }

    /// Ends the line at byte `at`: a statement at the outermost level, a line of a block below it.
    pub(super) fn end(&mut self, at: u32) {
        (self.starts, self.parens, self.operators) = (true, 0, 0);
        match self.last() {
            None => {}
            _ if self.blocks == 0 => {
                let stretch =
                    Stretch { first: self.first, past: self.out.all.len(), too_deep: self.too_deep };
                self.out.stretches.push(stretch);
                self.push_end(at);
                (self.first, self.too_deep) = (self.out.all.len(), false);
            }
            Some(Sign::End | Sign::Open) => {}
            Some(_) => self.push_end(at),
        }
        self.starts = true;
    }

    fn push_end(&mut self, at: u32) {
        self.last_end = Some(at);
        self.push(Sign::End, at, at);
    }

    pub(super) fn open(&mut self, token: Token) {
        self.at += 1;
        self.blocks += 1;
        if self.blocks > DEEPEST {
            self.deep(token, "blocks");
        }
        self.push(Sign::Open, token.start, token.end);
        self.starts = true;
    }

    pub(super) fn close(&mut self, token: Token) {
        self.at += 1;
        self.blocks = self.blocks.saturating_sub(1);
        self.push(Sign::Close, token.start, token.end);
    }

    pub(super) fn open_paren(&mut self, token: Token) {
        if self.parens == 0 && self.at >= self.joined {
            self.joined = self.closing_paren().unwrap_or(self.joined);
        }
        self.parens += 1;
        if self.parens > DEEPEST {
            self.deep(token, "parentheses");
        }
        self.operator(Sign::OpenParen, token);
    }

    pub(super) fn close_paren(&mut self, token: Token) {
        self.parens = self.parens.saturating_sub(1);
        self.mark(Sign::CloseParen, token);
    }

    /// The token that closes the parenthesis to be read, if it does so before a brace, a `;` or another statement.
    /// Parentheses that hold more than a screen of tokens are taken for a missing `)`.
    fn closing_paren(&self) -> Option<usize> {
        const FARTHEST: usize = 1000;
        let mut depth = 0_usize;
        let mut line_start = false;
        for (offset, token) in self.tokens.get(self.at..)?.iter().take(FARTHEST).enumerate() {
            match token.kind {
                TokenKind::OpenParen => depth += 1,
                TokenKind::CloseParen if depth == 1 => return Some(self.at + offset),
                TokenKind::CloseParen => depth -= 1,
                TokenKind::OpenBrace | TokenKind::CloseBrace | TokenKind::Semicolon => return None,
                TokenKind::Word if line_start && self.begins_statement(*token) => return None,
                _ => {}
            }
            line_start = token.kind == TokenKind::Newline || (line_start && token.kind.is_trivia());
        }
        None
    }

    /// A mark of the grammar as it stands.
    #[inline]
    pub(super) fn mark(&mut self, sign: Sign, token: Token) {
        self.at += 1;
        self.push(sign, token.start, token.end);
    }

    /// A mark that makes the tree deeper.
    pub(super) fn operator(&mut self, sign: Sign, token: Token) {
        self.operators += 1;
        if self.operators > MOST_OPERATORS {
            self.deep(token, "operations");
        }
        self.mark(sign, token);
    }

    fn deep(&mut self, token: Token, what: &str) {
        if !self.too_deep {
            let limit = if what == "operations" { MOST_OPERATORS } else { DEEPEST };
            let complaint = complaint::too_deep(self.span(token.start, token.end), what, limit);
            self.complain(complaint);
        }
        self.too_deep = true;
    }
}
