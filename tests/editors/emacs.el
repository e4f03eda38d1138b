;;; emacs.el --- Emacs opens a file, gets findings, edits, hovers, goes to definitions, formats and quits  -*- lexical-binding: t; -*-

;; Run by tests/editors/run with `emacs -q --batch -l'.

(require 'eglot)
(require 'flymake)
(require 'wattle-mode)

(defun fail (why &rest more)
  "Ends Emacs with the sentence WHY, formatted with MORE."
  (message "emacs: %s" (apply #'format why more))
  (kill-emacs 1))

(defun wait-for (what condition)
  "Lets the server speak until CONDITION holds; WHAT names it."
  (let ((end (+ (float-time) 20)))
    (while (not (funcall condition))
      (when (> (float-time) end) (fail "waited in vain for %s" what))
      (accept-process-output nil 0.02))))

(defun errors ()
  "The findings of the kind that the sample has."
  (seq-filter (lambda (found)
                (string-match-p "begins no statement" (flymake-diagnostic-text found)))
              (flymake-diagnostics)))

(defun told (text)
  "Has the edits so far told to the server, and findings with TEXT waited for."
  (eglot--signal-textDocument/didChange)
  (wait-for text (lambda () (flymake-start) (funcall (intern text)))))

(defun one-error () "Whether there is one error, on the last line."
       (and (= 1 (length (errors)))
            (= (flymake-diagnostic-beg (car (errors)))
               (save-excursion (goto-char (point-max)) (search-backward "nonsense") (point)))))

(defun no-error () "Whether there is none." (null (errors)))

(defun thin ()
  "The findings of wires that are too thin."
  (seq-filter (lambda (found) (string-match-p "its limit is 1.5 A" (flymake-diagnostic-text found)))
              (flymake-diagnostics)))

(defun thin-wires () "Whether all three are." (= 3 (length (thin))))

(defun no-thin-wire () "Whether none is." (null (thin)))

(defun own-table (amps)
  "Writes a table of ampacities with AMPS in it beside the sample, and a comment into the sample."
  (let ((beside (file-name-directory (getenv "WATTLE_SAMPLE"))))
    (with-temp-file (expand-file-name "wattle.toml" beside)
      (insert-file-contents (getenv "WATTLE_TABLE"))
      (while (search-forward "AMPS" nil t) (replace-match amps t t))))
  (save-excursion (goto-char (point-max)) (insert "# " amps "\n")))

(setq eglot-sync-connect 20
      eglot-autoshutdown nil
      eglot-send-changes-idle-time 0.05)

(condition-case why
    (with-current-buffer (find-file-noselect (getenv "WATTLE_SAMPLE"))
      (unless (eq major-mode 'wattle-mode) (fail "the mode is %s" major-mode))
      (call-interactively #'eglot)
      (wait-for "the server" #'eglot-current-server)
      (flymake-start)
      (wait-for "findings" #'one-error)

      ;; Many edits, one after another, and the last one wins.
      (dotimes (_ 50)
        (goto-char (point-max)) (insert "nonsense\n")
        (eglot--signal-textDocument/didChange))
      (goto-char (point-min)) (search-forward "nonsense")
      (delete-region (match-beginning 0) (point-max))
      (insert "\n")
      (told "no-error")
      (goto-char (point-max)) (insert "nonsense again\n")
      (told "one-error")
      (search-backward "nonsense") (delete-region (point) (point-max))
      (told "no-error")

      (goto-char (point-min)) (search-forward "wire W") (search-forward "wire W")
      (let* ((answer (jsonrpc-request (eglot-current-server) :textDocument/hover
                                      (eglot--TextDocumentPositionParams)))
             (page (plist-get (plist-get answer :contents) :value)))
        (dolist (part '("18 AWG" "conductor temperature: " "highest fault current: " "lowest fault current"))
          (unless (and page (string-match-p part page)) (fail "the hover lacks %s: %s" part page))))

      ;; The author's own table of ampacities is read, and read again when it has changed.
      (own-table "1.5 A")
      (told "thin-wires")
      (own-table "10 A")
      (told "no-thin-wire")

      (goto-char (point-min)) (search-forward "F1.load to") (search-backward "load")
      (let* ((found (jsonrpc-request (eglot-current-server) :textDocument/definition
                                     (eglot--TextDocumentPositionParams)))
             (start (plist-get (plist-get (elt found 0) :range) :start)))
        (unless (and (eql 4 (plist-get start :line)) (eql 5 (plist-get start :character)))
          (fail "the fuse is defined at %s" found)))

      ;; The stock opens as a file of its own.
      (goto-char (point-min)) (search-forward ": blade-5") (backward-char)
      (let ((sample (current-buffer)))
        (xref-find-definitions "LSP identifier at point.")
        (unless (looking-at-p "blade-5 ") (fail "the stock opens at %s" (thing-at-point 'line)))
        (unless buffer-read-only (fail "the stock may be edited"))
        (set-buffer sample))

      (eglot-format-buffer)
      (goto-char (point-min)) (forward-line 2)
      (unless (looking-at-p "place body$") (fail "the layout gives: %s" (buffer-string)))
      (save-buffer)

      (let ((server (eglot-current-server)))
        (eglot-shutdown server nil 20)
        (when (jsonrpc-running-p server) (fail "the server runs on"))))
  (error (fail "%S" why)))

(kill-emacs 0)
;;; emacs.el ends here
