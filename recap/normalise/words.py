"""The words of capacitor lists as data: what a word states, in the languages lists come in.

Keys are lower case, accents kept and also folded away when they are looked up. A reader adds a
spelling here and nowhere else. Sources: common practice of lists, service sheets and catalogues.
"""

from __future__ import annotations

from typing import Final

from recap.model import Role
from recap.normalise.clean import fold


def folded(text: str) -> frozenset[str]:
    """Return the words of a text, folded."""
    return frozenset(fold(word) for word in text.split())


ALONE: Final = (
    "vertical",
    "verticale",
    "verticali",
    "verticales",
    "horizontal axial",
    "snap",
    "screw",
    "rad",
    "paper",
    "disc",
    "wax",
    "poly",
    "ax",
    "brak",
    "nie ma",
)
"""Words that state nothing when another word follows: ``vertical output``, ``Deflessione verticale``."""

ROLE_WORDS: Final[dict[str, Role]] = {
    **dict.fromkeys(
        "smoothing|filter cap|main filter|main smoothing|reservoir|siebung|siebelko|siebelkos|ladeelko|ladeelkos"
        "|netzelko"
        "|filtrage|filtraggio|bulk|glättung|b+ filter|psu filter|main reservoir|afvlak|filtrado".split(
            "|"
        ),
        Role.SMOOTHING,
    ),
    **dict.fromkeys(
        "decoupling|bypass|entkopplung|abblock|découplage|disaccoppiamento|desacoplo|ontkoppeling".split("|"),
        Role.DECOUPLING,
    ),
    **dict.fromkeys(
        "coupling|koppel|kopplung|koppelkondensator|koppelelko|liaison|accoppiamento|acoplo|koppeling"
        "|audio coupling|dc blocking".split("|"),
        Role.COUPLING,
    ),
    **dict.fromkeys("timing|oscillator|zeitglied|temporisation|temporizzazione".split("|"), Role.TIMING),
    **dict.fromkeys(
        "deflection|s-correction|s correction|s-cap|s-capacitor|yoke coupling|vertical deflection"
        "|horizontal deflection|flyback tuning|retrace|retrace tuning"
        "|ablenkung|s-korrektur|tuning cap".split("|"),
        Role.DEFLECTION,
    ),
    **dict.fromkeys(
        "switching|switcher|smps|smps output|startup|start-up|low esr smps|schaltnetzteil".split("|"), Role.SWITCHING
    ),
    **dict.fromkeys("crossover|x-over|frequenzweiche|weiche|filtre audio|crossover network".split("|"), Role.CROSSOVER),
}
"""Words that say what a position does. Read from a role column or a note; never guessed from the value."""

NOT_FITTED: Final = frozenset(
    "never there|never fitted|never installed|never populated|war nie bestückt|nie bestückt|jamais monté|mai montato"
    "|nunca montado|nooit geplaatst"
    "|empty|(empty)|nc|n/c|n.c.|dnp|dnf|dni|d.n.p.|do not populate|do not fit|do not install|do not place|not fitted"
    "|not installed"
    "|not populated|not placed|not present|not used|not stuffed|unpopulated|unused|unstuffed|unfitted|no stuff"
    "|nostuff|no-stuff|no pop|nopop|no-pop"
    "|omitted|omit|n.f.|nf!|n/f|vacant|deleted|delete|no part|none fitted|not assembled|blank"
    "|nicht bestückt|nichtbestückt"
    "|unbestückt|n.b.|nb!|leer|entfällt"
    "|frei|nicht vorhanden|non monté|non montés|non monte|non équipé|non câblé|non peuplé|absent|absente|vide"
    "|non montato|non montati|assente|vuoto|non presente"
    "|no montado|no montados|vacío|vacio|no poblado|no instalado|sin montar|niet geplaatst|niet gemonteerd|leeg"
    "|niet bestukt|niet aanwezig|ikke monteret"
    "|not mounted|no mount|unmounted|no fit|no-fit|nofit|not loaded|unloaded|no load|dnl|n.p.d.|not installed"
    "|ej monterad|tom plats|open pads|pads only|empty pads|bare pads|no cap|no capacitor"
    "|não montado|não montados|não instalado|não usado"
    "|brak|nie ma|niewlutowany|neosazeno|nincs|kimarad|nincs beültetve|未実装|未使用|空き|なし"
    "|not assigned|unassigned|not allocated|gestrichen|weggelassen|supprimé|supprimée|supprimés|vervallen|weggelaten"
    "|soppresso|soppressi|suprimido|suprimidos|eliminado|eliminados|utgår|udgår".split("|")
)
"""The place stays free: no position, a note."""

DITTO: Final = frozenset(
    '"|\'\'|``|”|“|„|〃|""|-"-|–"–|—"—|-\'\'-|-„-|-”-|- " -|--"--|do|do.|ditto|dito|dto|dto.|idem|id.|idem.|s.o.'
    "|same|same as above|as above|wie oben|wie vor|s. o."
    "|come sopra|comme ci-dessus|igual|als boven|=\"=|=„=|ídem|^|^^|''''|′′|″|--''--|-''-".split("|")
)
"""The same as in the line above."""

SAFETY_CLASS: Final = (
    r"(?<![A-Za-z0-9])(?:(?:[Cc]lass[ei]?|[Kk]lass[ea]?|[Cc]lase|CLASSE?|KLASSE|[Kk]l\.?|[Cc]l\.?)-)?"
    r"(?P<safety>X[1-3](?:\s?[/&+-]?\s?Y[1-4])?|[Yy][1-4](?:\s?[/&+-]?\s?X[1-3])?)(?![A-Za-z0-9])"
)
"""X and Y classes (IEC 60384-14), perhaps both of one part: ``X1Y2``; ``x2`` in small letters may be a count."""

COUNT_WORDS: Final = (
    "pcs|pc|pieces|piece|stk|stück|stueck|st|stuks|stuk|stück|pezzo|pieza|piezas|peça|peças|sztuk|sztuka|sztuki|kusy|kusů|k(?-i:s)\\b|darab|d(?-i:b)\\b|шт|stykk|stykker|ea|each|off|nos|no|units|unit|pezzi|pz|pièces|pièce|pces"
    "|pçs|pç|pças|pzas|pza|pezas|peza|adet|tane|kappaletta|kappale|stycken|vnt|gab|бр|τεμ"
    "|uds|ud|un\\b|unid|unids|unidades|unidade|und|unità|adet|buc|штук|штуки|штука|qty|quantity"
    "|anzahl|menge|caps|capacitors|elkos|kondensatoren|condensateurs|condensatori|condensadores|condensatoren|condos"
    "|electrolytics|needed|required|req'd|benötigt|nécessaires|necessari|necesarios|times|×|x|mal|pers|szt|kom|kpl|styck|st\\.|本|個|ケ|只|个|枚"
).split("|")
"""Words that mark a number as a count."""

REST: Final = folded(
    "more additional further extra extras mehr zusätzliche supplémentaires ulteriori más adicionales meer "
    "other others rest remaining remainder else everything various sundry leftover leftovers "
    "sonstige sonstiges sonstigen übrige übrigen übriges restliche restlichen andere anderen anderes weitere weiteren "
    "verschiedene diverse diverses autre autres reste restants restantes divers diverses altri altre altro resto "
    "rimanenti restanti vari varie otro otros otra otras demás restante vario varios varias overige overig andere "
    "diversen övriga övrigt andra øvrige andet andre resten pozostałe inne reszta ostatní jiné zbytek muut loput "
    "outros outras demais egyéb többi další прочее прочие остальные другие その他 "
    "polarised polarized polar gepolt gepolte polarisé polarisés polarizzati polarizados gepolariseerd polariserade "
    "tht leaded wired through through-hole thru-hole bedrahtet bedrahtete traversant traversants"
)
"""Words of a heading under which stands what the headings above it don't speak of: ``Others``, ``Sonstige``."""

MISSPELT: Final = folded(
    "condensators condensor condensors capacitator capacitators capaciter capaciters capactior capactiors capcitor "
    "capcitors capasitor capasitors"
)
"""Words that are meant for capacitors."""

NEUTRAL: Final = (
    folded(
        "cap caps capacitor capacitors kondensator kondensatoren kondensators condensateur condensateurs condensatore "
        "condensatori "
        "condensador condensadores condensator condensatoren kondi kondis c the a an all alle tous toutes tutti todos "
        "type types typ typen oh ah hm hmm "
        "tipo and und et e y en or oder ou o of von de der die das di del des with mit avec con met are is sind sont "
        "sono son zijn rated rating nennspannung "
        "at for für pour per para voor lead leads leaded unless otherwise noted stated only nur value values werte "
        "wert valeur volt volts "
        "low esr impedance lowesr low-esr standard general purpose high temperature temp high-temp high-temperature "
        "series serie serien série "
        "style case can cans part parts component components bauteile position pos place board-mount pcb-mount through "
        "hole through-hole thru-hole tht "
        "bauform polarised polarized polar gepolt polarity al solid dipped wet liquid be these those here following "
        "folgende in on list section (all) [all] mount mounted mounting bauweise ausführung degree degrees grad "
        "celsius max min class"
        " sofern nicht anders angegeben vermerkt soweit sauf indication contraire salvo diversa indicazione "
        "diversamente "
        "indicato indicacion contraria tenzij vermeld aangegeven stated noted otherwise "
        " rest alles remaining small large big one ones new kleine große petits gros radial-type mainboard-type group "
        "kondensatory kondensatorer kondensaattori kondensaattorit kondenzátor kondenzátory kondenzátorok "
        "kondensatorów "
        "capacitor capacitores конденсатор конденсаторы конденсаторов コンデンサ コンデンサー typu typ тип 型 "
        "leakage noise chips "
        "originals normal normale normales normali normaux normaal normální zwykłe ordinary regular usual gewöhnliche"
    )
    | REST
    | MISSPELT
)
"""Words that add nothing to what a heading or note states; they may stand in an attribute heading."""

IDLE: Final = folded(
    "i i've we we've it it's is mine my me ours our you your he she they this that size sized about ich habe wir haben "
    "es meiner meine je j'ai nous avons c'est est mien io ho abbiamo è mio yo tengo hemos mide ik heb wij hebben"
)
"""Words that by themselves say nothing of a part: what is left of ``I measured 12x25 mm``."""

BOARD_NOUNS: Final = folded(
    "board boards pcb pcbs psu smps supply powersupply power mainboard motherboard platine platinen leiterplatte "
    "netzteil netzplatine hauptplatine "
    "steckkarte modul baugruppe endstufe vorstufe verstärker carte circuit module alimentation alim platine "
    "châssis chassis scheda schede alimentatore "
    "alimentazione telaio placa fuente circuito módulo printplaat print voeding moederbord hoofdprint neck crt "
    "płytka płyta deska doska плата платка πλακέτα kretskort kortti pločica slot "
    "oscillator oszillator oscillateur oscillatore oscilador deflection audio video tuner "
    "amplifier amp preamp driver control panel unit section logic inverter backlight keyboard drive deck mechanism "
    "servo rf if pif monitor sync "
    "daughterboard daughtercard remote analog analogue digital io i/o interface subboard sub-board headphone display "
    "front rear main sub mic input output "
    "preamplifier channel left right processor cpu card assembly assy bedienteil ablenkung bildröhrenplatine hf nf "
    "zf tonteil netz chip bloc "
    "controller mother daughter line phono eq equaliser equalizer mixer effects reverb transport head-amp headamp "
    "regulator rectifier vertical horizontal "
    "convergence chroma luma decoder jungle sound speaker crossover horizontal-deflection filter bias stage block "
    "fonte alimentação amplificador amplificatore amplificateur preamplificador previo etapa nätdel förstärkare "
    "strømforsyning forstærker forsterker virtalähde vahvistin zasilacz wzmacniacz zdroj zesilovač tápegység erősítő "
    "amplificator zasilania zdroje zesilovače wzmacniacza блок усилитель питания питание модуль живлення підсилювач "
    "підсилювача блок τροφοδοτικό ενισχυτής "
    "nt backplane power-supply sostenitore gruppo étage platina kit timer clock relay protection"
)
"""Words that name a part of a set: a short line with one of them is a board heading."""

TITLE_WORDS: Final = folded(
    "list lists liste lista lijst kondensatorliste elkoliste elko-liste elkotausch elkosatz elkoset elcolijst "
    "kondensatorenliste caplist caplists recap recapping kit kits capkit bom bill "
    "materials schedule schematic manual service shopping order bestellung bestellliste einkaufsliste stückliste "
    "elenco relevé nomenclature "
    "info information notes note version rev revision forum thread posted page table source quelle index "
    "orçamento presupuesto preventivo devis kostenvoranschlag angebot quotation estimate "
    "replacement replacements variant variants variante varianten"
)
"""Words of a title or caption: such a line names the list, not a board."""

SECTION_WORDS: Final = folded(
    "errata erratum swaps gallery galerie summary zusammenfassung verified models overview übersicht history changes "
    "changelog photos pictures instructions introduction passive passives components parts bauteile bauelemente "
    "composants componenti componentes fehlt missing documentation dokumentation"
)
"""Words of a section of a text: without a word for a part of a set such a line names no board."""

WORN: Final = folded(
    "broken bad dead leaky leaking faulty defective suspect suspicious failed tired dried defekt defekte defekten "
    "kaputt kaputte tote taube ausgelaufene"
)
"""What is said of old parts in a heading (``Broken caps``): no name of a board."""

HEDGES: Final = folded(
    "if when unless may might maybe could can't cannot not instead early later earlier late some sometimes "
    "replaced replace "
    "replacing use used using was were originally should perhaps either vs versus than rather better also wenn "
    "oder statt nicht "
    "ersetzt manche frühe spätere war waren vielleicht statt si non au lieu parfois peut sostituito invece vecchi "
    "early-models "
    "revision revisions rev models model variants variant version versions usually typically probably likely check "
    "prüfen recommended "
    "recommend suggest suggested upgrade upgraded changed change but except don't never avoid optional optionally"
)
"""Words after which an attribute in a sentence no longer plainly describes the part."""

OR: Final = folded("or oder ou o of eller lub")
MORE: Final = folded(
    "better higher more greater above up bigger larger höher mehr besser größer grösser darüber plus supérieur "
    "supérieure superiore più más superior mayor hoger meer beter groter högre mer"
)
"""``or better``, ``oder höher``: what stands before is the least that will do, and is what the list states."""

ALL_OF_THEM: Final = folded(
    "each both every all apiece je jeweils beide beides beiden alle chacun chacune chaque tous toutes tout cada ambos "
    "ambas todos todas entrambi entrambe ambedue ciascuno ciascuna tutti tutte elk elke allebei bada alla begge alle "
    "molemmat kaikki oba obie obydwa wszystkie vsechny vsetky mindketto mind ambos оба обе все всe 両方 全部"
)
"""Words that lay what stands beside them at a line's end on all its records: ``both 25V``, ``25 V each``."""

OFFERING: Final = folded(
    "or ok okay fine works work possible also too would will suitable allowed alternatively alternative acceptable "
    "oder auch geht möglich passt tauglich ou aussi possible convient o anche possibile va también vale posible "
    "ook kan mogelijk eller också även også lub też nebo také или можно"
)
"""With one of these a remark offers what would do, too, and doesn't say what the part is."""

ADDING: Final = folded(
    "add adds added adding forgot forgotten missed also plus dazu zusätzlich hinzu vergessen ergänzen ajouter ajouté "
    "oublié aggiungere aggiunto dimenticato añadir añadido olvidé toevoegen toegevoegd vergeten"
)
"""Directly in front of a whole record one of these says that it belongs to the list, too."""

UNCERTAIN: Final = folded(
    "looks seems maybe think probably perhaps possibly likely presumably guess guessing guessed assume "
    "assuming unsure uncertain unclear unreadable illegible hard-to-read faded smudged dunno "
    "vermutlich wahrscheinlich vielleicht unleserlich evtl eventuell unklar unsicher vermute geschätzt "
    "peut-être peut probablement illisible environ forse probabilmente illeggibile quizás quizá ilegible "
    "probablemente misschien waarschijnlijk onleesbaar either"
)
"""Words by which a list itself doubts what stands beside them."""

CANNOT_READ: Final = (
    r"\b(?:can't|cannot|can not|cant|couldn't|could not)\s+(?:\w+\s+)?"
    r"(?:read|see|tell|make|say|be\s+sure|decipher|recall|remember|identify|find\s+out)\b"
)
"""Whoever wrote the list couldn't read what stands on the part."""
TO_CHECK: Final = (
    r"\b(?:value|voltage|rating|volts|wert|spannung|valeur|tension|valore|tensione|valor|tensión|waarde|spanning)\b\W+(?:\w+\W+){0,2}?"
    r"(?:tbc|tbd|to\s+be\s+(?:checked|confirmed)|to\s+check|nachsehen|nachschauen|(?:nach|über)?prüfen|à\s+vérifier|da\s+verificare"
    r"|da\s+controllare|por\s+(?:comprobar|verificar)|nakijken|nagaan|controleren)\b"
    r"|\b(?:check|confirm|vérifier|verificare|controllare|comprobar|verificar)\s+(?:the\s+|la\s+|il\s+|el\s+)?(?:value|voltage|rating|valeur"
    r"|tension|valore|tensione|valor|tensión)\b"
)
"""Value or voltage are still to be looked up: the list itself doubts them."""
CHECKING: Final = folded(
    "tbc tbd check checked confirm confirmed nachsehen nachschauen prüfen nachprüfen überprüfen vérifier verificare "
    "controllare comprobar verificar nakijken nagaan controleren"
)
"""The words of :data:`TO_CHECK` that look something up."""

UNREADABLE: Final = folded(
    "unsure uncertain unclear unreadable illegible guess guessed guessing assumed smudged faded unleserlich "
    "unklar unsicher "
    "geraten illisible illeggibile ilegible onleesbaar"
)
"""Those of them that in a remark, too, can only speak of the reading."""

BESIDE: Final = folded(
    "to at near by next beside behind under below above between from next-to close towards via bei neben an hinter "
    "unter zwischen von nach près sous entre vers vicino accanto sotto tra junto cerca bajo naast bij onder tussen naar"
)
"""Behind one of these stands a neighbour of the part: ``wire to R44``."""

MENTIONING: Final = BESIDE | folded(
    "is was are called named marked labelled labeled see becomes being across parallel ist heißt heisst siehe genannt "
    "est appelé voir appelée è chiamato vedi es llamado ver heet genaamd zie kallas se"
)
"""Behind one of these a designator is only spoken of: ``this is C531 on early sets``."""

PARALLEL: Final = folded(
    "parallel paralleled serie series reihe parallèle série parallelo paralelo parallell równolegle paralell"
)
"""With a number beside one of these there are several parts at one place."""

MISSING: Final = folded("missing fehlt fehlte manquant mancante falta ontbreekt")
"""The part isn't in its place: whether it belongs there is for somebody to say."""

MEASURED: Final = (
    r"\b(?:measure[sd]?|measuring|meas(?:d|\'d)?\b\.?|reads|reading|tests?|tested|gemessen|gem\.|misst|messwert|mesuré"
    r"|mes\.|misurat[oa]|mis\.|medid[oa]|mide|gemeten|(?:was\s+|is\s+)?(?:down|dropped|fallen|drifted|up)\s+to(?!\s+(?:about\s+)?(?:serial|s/?n|ser\.|unit|no\b|nr\b|n°|year|19\d\d|20\d\d))|was\s+only|hatte\s+nur\s+noch)(?!\w)(?:\s+(?:as|at|only|mit|à|a))?\s*[:=]?"
)
"""The value behind one of these is what a meter showed."""

REPLACEMENT_CUES: Final = (
    r"-{1,2}>|=>|→|⇒|➔|➜|➝|»|>>|\breplac(?:e|ed|ement)s?\b(?:\s+(?:it|this|them))?(?:\s+(?:with|by|is|:|=|part))?"
    r"|\buse[sd]?\b(?!\s+in\b)|\bupgrade[d]?\b(?:\s+(?:to|with))?"
    r"|\bsubst(?:itute[sd]?)?\b\.?(?:\s+with)?|\bsub(?:bed)?\s+with\b|\bersetz(?:t|en)\b(?:\s+durch)?"
    r"|\bersatz(?:typ)?\b|\bremplac(?:er|é|ement)\b(?:\s+par)?"
    r"|\bsostitu(?:ire|ito|to)\b(?:\s+con)?|\bsustitu(?:ir|ido|to)\b(?:\s+(?:por|con))?|\bvervang(?:en"
    r"|ing)?\b(?:\s+door)?"
    r"|\bcambiad[oa]s?\s+por\b|\bcambiat[oaie]\s+con\b|\bchangée?s?\s+(?:en|par|pour)\b|\bgetauscht\s+gegen\b"
    r"|\bnow\b(?=\s+\d)|\b(?:re)?fitted\b(?=\s+[\d.])|\b(?:put|went)\s+in\b(?=\s+[\d.])|(?:(?<=[fv\d),;.-]\s)|(?<=\())i\s+(?:put|fitted|installed)\b(?=\s+(?:an?\s+)?\d)|\bchang(?:e|es|ed|ing)\s+to\b(?=\s+[.,]?\d)|\beingebaut\b(?=\s+[\d.])"
    r"|\b(?:was\s+)?changed\s+to\b|\bnew\s*[:=]|\bnow\s*[:=]|\bneu\s*[:=]|\bfitted\s+with\b|\bor\s+better\b(?=\s+\d[\d.,]*\s?(?:[uµ]F?|V))"
    r"|\b(?:ersätts|ersatt|erstattes|erstattet|udskiftes|udskiftet)\s+med\b|\b(?:bytt|byts|byttet|byttes)\s+(?:mot|med|til|till)\b"
    r"|\b(?:troc|substituíd|substituid|mudad)\w*\s+por\b|\b(?:zamien|wymien)\w*\s+na\b|\b(?:zastąpi|nahra[zd])\w*(?:\s+(?:przez|za))?\b"
    r"|\bvyměněn\w*\s+za\b|\bзамен\w*\s+на\b"
    r"|\bequiv(?:alent)?\.?\s*[:=]|\bi\s+used\b|\bfits\b"
)
"""What stands behind one of these is a suggestion; the position is what stands before it."""

CAPACITOR_PREFIXES: Final = frozenset(
    "C CE EC CX CY CP CT CC CA CB CD CS CM CK CU CW CG CZ KC CAP CQ TC BC PC AC SC MC NC HC DC FC GC LC RC UC VC "
    "WC XC YC CEL ELC".split()
) - {"AC", "DC", "VC", "PC", "NC", "BC", "FC", "UC", "LC", "HC", "MC", "RC"}
"""Letters that a capacitor's designator may begin with in running text."""

OTHER_PREFIXES: Final = frozenset(
    "R L Q U IC D ZD T TR VR RV POT F FU S SW J JP JK CN CON K RY RL RE X XTAL XT V LED BR DB BD FB TP RN NTC PTC "
    "TH THR VDR MOV OC OPT PH "
    "CR LA NE M BT BAT SP DL FL W CF CV P PL TB GND Z LS MIC LP TY SCR TRIAC Q RP RT RM RD RX B H N Y E VDR DY RF "
    "QS IS TS PS SV OK FID HS VC PCB BZ LCD MOD ENC OPAMP CONN JACK PUSH BTN NEO "
    "OLED RELAY FUSE HDR TERM TRIM DIODE OPTO XFMR TRAFO SPK ANT USB".split()
) - {"E", "H", "N", "B", "W", "Z"}
"""Letters of parts that are no capacitors (or are adjustable ones): such lines are passed over."""
