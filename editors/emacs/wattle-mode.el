;;; wattle-mode.el --- Major mode for Wattle robot wiring  -*- lexical-binding: t; -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "28.1"))
;; Keywords: languages

;;; Commentary:

;; Colours for Wattle files, and the language server for eglot.

;;; Code:

(defgroup wattle nil
  "Robot wiring written in Wattle."
  :group 'languages)

(defcustom wattle-server "wattle-lsp"
  "The language server's command."
  :type 'string)

(defvar wattle-statements
  '(;; words: statements
    "wattle" "use" "let" "robot" "place" "group" "part" "wire" "tie" "harness" "cable" "mate" "mode"
    "expect" "reading" "accept" "assembly" "fit"
    ;; words: end
    )
  "Words that begin a statement.")

(defvar wattle-kinds
  '(;; words: kinds
    "battery" "charger" "supply" "generator" "fuse" "breaker" "clamp" "switch" "stop" "relay"
    "contactor" "regulator" "driver" "amplifier" "controller" "receiver" "sensor" "motor" "servo"
    "light" "speaker" "meter" "load" "resistor" "capacitor" "diode" "shunt" "block" "splice" "stud"
    "lug" "plug" "socket" "slip-ring" "chassis"
    ;; words: end
    )
  "Kinds of parts.")

(defvar wattle-keys
  '(;; words: keys
    "voltage" "absolute-max" "full" "empty" "output" "tolerance" "dropout" "forward" "clamps-at"
    "coil-max" "logic" "signal-max" "sense-max" "insulation-voltage" "current" "peak-time"
    "current-limit" "limited-by" "quiescent" "breaking-capacity" "breaks" "makes" "holder"
    "discharge" "charge-current" "power" "capacity" "usable" "efficiency" "resistance"
    "contact-resistance" "capacitance" "drop" "chemistry" "cells" "strings" "taps" "built-in-fuse"
    "pack-protection" "style" "melting" "speed" "reset" "switching-duty" "coil" "coil-resistance"
    "coil-voltage" "operate" "release" "suppression" "poles" "contact" "polarised" "opens-unloaded"
    "stop-category" "ways" "channels" "signals" "speed-constant" "pushed" "back-drivable"
    "takes-back-feed" "reversing" "regenerates" "failsafe" "failsafe-time" "signal-type" "sinks"
    "draws" "isolated" "fails-high" "shares-load" "bridged" "carries-return" "size" "length"
    "colour" "insulation" "material" "strands" "sheathed" "supplied-tail" "spare" "bundle"
    "parallel-by-intent" "moving" "sealed" "profile" "simultaneity" "port" "direction" "pull"
    "contacts" "view" "wire-size" "thread" "shrouded" "keyed" "hot-mate" "max-temperature"
    "mirrored" "crossover" "note" "basis"
    ;; words: end
    )
  "Keys of ratings and facts.")

(defvar wattle-modes
  '(;; words: modes
    "open" "closed" "pressed" "released" "absent" "connected" "off" "idle" "typical" "peak" "stall"
    "turned" "everything" "duty" "ambient"
    ;; words: end
    )
  "Words of modes.")

(defun wattle--words (words)
  "A regular expression that matches any of WORDS as a whole symbol."
  (regexp-opt words 'symbols))

(defvar wattle-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?# "<" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?- "_" table)
    (modify-syntax-entry ?_ "_" table)
    table)
  "Syntax of Wattle: `#' begins a comment, names hold hyphens.")

;;;###autoload
(define-derived-mode wattle-mode prog-mode "Wattle"
  "Major mode for robot wiring."
  (setq-local comment-start "# ")
  (setq-local comment-end "")
  (setq-local font-lock-defaults
              (list (list (cons (wattle--words wattle-statements) 'font-lock-keyword-face)
                          (cons (wattle--words wattle-kinds) 'font-lock-type-face)
                          (cons (wattle--words wattle-modes) 'font-lock-constant-face)
                          (cons (wattle--words wattle-keys) 'font-lock-variable-name-face)))))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.wattle\\'" . wattle-mode))

(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs
               (cons 'wattle-mode (lambda (&rest _) (list wattle-server "--stdio")))))

(provide 'wattle-mode)
;;; wattle-mode.el ends here
