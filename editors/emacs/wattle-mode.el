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
    "contactor" "regulator" "driver" "amplifier" "controller" "receiver" "sensor" "signal-isolator"
    "motor" "servo" "light" "speaker" "meter" "load" "resistor" "capacitor" "diode" "shunt" "block"
    "splice" "stud" "lug" "plug" "socket" "slip-ring" "chassis"
    ;; words: end
    )
  "Kinds of parts.")

(defvar wattle-keys
  '(;; words: keys
    "voltage" "absolute-max" "full" "empty" "output" "tolerance" "dropout" "forward" "clamps-at"
    "coil-max" "logic" "signal-max" "sense-max" "insulation-voltage" "cutoff" "alarm"
    "joining-limit" "float" "load-dump" "crank" "reset-voltage" "allowed-drop" "isolation-voltage"
    "common-mode" "full-scale" "full-scale-current" "output-high" "output-low" "input-high"
    "input-low" "current" "peak-time" "current-limit" "limited-by" "quiescent" "breaking-capacity"
    "breaks" "makes" "holder" "inrush" "inrush-time" "standby" "leakage" "clamp-current"
    "single-current" "regen-current" "hold-current" "discharge" "charge-current" "power"
    "dissipation" "pulse-energy" "capacity" "usable" "efficiency" "resistance" "contact-resistance"
    "capacitance" "resistance-per-length" "inductance" "insulation-resistance" "drop" "chemistry"
    "cells" "strings" "taps" "built-in-fuse" "pack-protection" "series-string" "equalised"
    "unplugged-after-use" "covered" "or-ed-by" "waits-for-battery" "adjustable" "earthed"
    "parked-only" "constant-current" "servo-rail" "backed-up-by" "asked-for-by" "alternating-only"
    "disconnect" "dead-within" "style" "melting" "speed" "reset" "switching-duty" "coil"
    "coil-resistance" "coil-voltage" "operate" "release" "suppression" "poles" "contact" "polarised"
    "opens-unloaded" "sequence" "carries-only" "load-type" "contact-material" "break-before-make"
    "self-holding" "economiser" "operate-temperature" "operate-time" "release-time" "mirror-contact"
    "starts" "hold-to-run" "reachable" "category-reason" "monitored" "by-radio" "stop-category"
    "ways" "channels" "signals" "data-lines" "speed-constant" "brushless" "pushed" "back-drivable"
    "takes-back-feed" "reversing" "regenerates" "moved-mass" "moved-speed" "moved-inertia"
    "moved-turning" "braking-time" "one-way" "ganged" "harmless-motion" "force" "torque"
    "motion-power" "carries-weight" "balanced" "held-by" "brake" "parking-only" "on-time"
    "soft-start" "pulsed" "always-on" "limits-itself" "safe-torque-off" "arms-at-neutral"
    "parallel-channels" "longest-lead" "failsafe" "failsafe-time" "failsafe-tested" "on-reset"
    "address" "addressed-in-turn" "takes-signal-unpowered" "takes-reversal" "signal-type" "sinks"
    "draws" "isolated" "fails-high" "shares-load" "bridged" "bridges-by-intent" "regen-path"
    "floating" "bonded-at" "multi-point" "metal-to-metal" "carries-return" "size" "length" "colour"
    "insulation" "material" "strands" "sheathed" "supplied-tail" "spare" "bundle"
    "parallel-by-intent" "length-basis" "insulation-resists" "outside-diameter" "sheath-diameter"
    "sleeved" "sleeve-temperature" "sleeve-voltage" "twisted" "screened" "screen" "screen-joined"
    "drum-layers" "carries" "bond" "bypass" "labelled" "double-ferrule" "unmetered" "ended-once"
    "ribbon" "adapter" "wet" "enclosure" "double-insulated" "out-of-reach" "exposed-to"
    "bend-radius" "twist-length" "turns" "continuous-rotation" "flex-cycles" "bare-edges"
    "support-spacing" "drip-loop" "cooled-by" "heat-cutoff-by" "positive-colours" "negative-colours"
    "stage" "all-off-on-fault" "all-off-on-stop" "insulation-monitor" "fenced" "attended"
    "attendants" "without-spares" "moving" "sealed" "profile" "share" "unloaded" "lasts"
    "simultaneity" "port" "direction" "pull" "bus-speed" "buffered" "from-reset" "either-polarity"
    "loss-harmless" "family" "dead-when-apart" "interlocked-with" "mates-first" "anti-spark"
    "unmated" "capped" "symmetrical" "interchangeable" "barriers" "potted" "loaded-ways"
    "rated-wire-size" "rated-ambient" "seal-size" "takes-strands" "wires-per-way" "connection"
    "tightening-torque" "locked" "repaired" "contacts" "view" "wire-size" "thread" "shrouded"
    "keyed" "hot-mate" "max-temperature" "mirrored" "crossover" "note" "source" "generic"
    "confirmed" "also-called" "verified" "until" "unwired" "on-hand" "service-interval" "basis"
    ;; words: end
    )
  "Keys of ratings and facts.")

(defvar wattle-modes
  '(;; words: modes
    "open" "closed" "pressed" "released" "absent" "connected" "off" "idle" "typical" "peak" "stall"
    "turned" "held" "everything" "duty" "ambient"
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
