" Colours for Wattle.
if exists('b:current_syntax')
  finish
endif

syntax case match
syntax iskeyword @,48-57,_,-

" words: statements
syntax keyword wattleStatement wattle use let robot place group part wire tie harness cable mate
syntax keyword wattleStatement mode expect reading accept assembly fit
" words: end
" words: kinds
syntax keyword wattleKind battery charger supply generator fuse breaker clamp switch stop relay
syntax keyword wattleKind contactor regulator driver amplifier controller receiver sensor motor
syntax keyword wattleKind servo light speaker meter load resistor capacitor diode shunt block splice
syntax keyword wattleKind stud lug plug socket slip-ring chassis
" words: end
" words: keys
syntax keyword wattleKey voltage absolute-max full empty output tolerance dropout forward clamps-at
syntax keyword wattleKey coil-max logic signal-max sense-max insulation-voltage current peak-time
syntax keyword wattleKey current-limit limited-by quiescent breaking-capacity breaks makes holder
syntax keyword wattleKey discharge charge-current power capacity usable efficiency resistance
syntax keyword wattleKey contact-resistance capacitance drop chemistry cells strings taps
syntax keyword wattleKey built-in-fuse pack-protection style melting speed reset switching-duty coil
syntax keyword wattleKey coil-resistance coil-voltage operate release suppression poles contact
syntax keyword wattleKey polarised opens-unloaded stop-category ways channels signals speed-constant
syntax keyword wattleKey pushed back-drivable takes-back-feed reversing regenerates failsafe
syntax keyword wattleKey failsafe-time signal-type sinks draws isolated fails-high shares-load
syntax keyword wattleKey bridged carries-return size length colour insulation material strands
syntax keyword wattleKey sheathed supplied-tail spare bundle parallel-by-intent moving sealed
syntax keyword wattleKey profile simultaneity port direction pull contacts view wire-size thread
syntax keyword wattleKey shrouded keyed hot-mate max-temperature mirrored crossover note basis
" words: end
" words: modes
syntax keyword wattleMode open closed pressed released absent connected off idle typical peak stall
syntax keyword wattleMode turned everything duty ambient
" words: end

syntax match wattleNumber "\<\d[0-9_]*\%(\.\d\+\)\?\%([eE][+-]\?\d\+\)\?"
syntax region wattleText start=+"+ skip=+\\.+ end=+"+ oneline
syntax match wattleComment "#.*$" contains=@Spell

highlight default link wattleStatement Statement
highlight default link wattleKind Type
highlight default link wattleKey Identifier
highlight default link wattleMode Constant
highlight default link wattleNumber Number
highlight default link wattleText String
highlight default link wattleComment Comment

let b:current_syntax = 'wattle'
