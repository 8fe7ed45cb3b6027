"""Words that head columns of capacitor lists beside the canonical ones, as data; and whose column it is.

What heads a canonical field (:mod:`recap.read.vocabulary`) wins where both know a word.
"""

from __future__ import annotations

from typing import Final

from recap.read.vocabulary import CATALOGUE, PASSED_OVER

_OF_NO_USE: Final = ("prices", "stock", "life", "tolerance", "maker", "series", "impedance")


def _words(text: str) -> tuple[str, ...]:
    return tuple(text.split("|"))


MORE_FIELDS: Final[dict[str, tuple[str, ...]]] = {
    "size": _words(
        "size dxh|size dxl|size d x h|size d x l|"
        "寸法|サイズ|размер|размеры|wymiary|mått|mål|mitat|rozměr|rozměry|méret|dimensões|tamanho|"
        "size|sizes|mm|dimensions|dimension|dim|dims|dxh|d x h|dxl|d x l|diameter x height|dia x height"
        "|diameter x length|ØxL|ØxH|case size|can size|physical size|body size|Maße|Abmessungen|Abmessung|Größe"
        "|Baugröße|taille|encombrement|dimensioni|misure|misura|tamaño|dimensiones|medidas|afmetingen"
        "|afmeting|maat|storlek|Ø x H|Ø x L|d*h|d*l|wxh|d/h|d/l|gabarit"
    ),
    "package": _words(
        "footprint|package|case|Gehäuse|Gehaeuse|outline|pkg|package/case|package / case|case/package|Bauform/Gehäuse"
        "|device|library part|pattern|land pattern|decal"
        "|boîtier|boitier|encapsulado|contenitore|behuizing|boîtier cms|case code|eia size|eia code|body"
        "|封装|封装规格|元件封装|lib ref|libref|library ref|symbol name"
    ),
    "value": _words(
        "kapacitet|vrijednost|용량|정전용량|값|capacitate|valoare|χωρητικότητα|τιμή|ємність|номінал|капацитет|стойност|capacitat|קיבול|ערך|"
        "uf value|kap|capa|capac|capacidade|poj|номинал мкф|电容|"
        "değer|kapasite|"
        "容量|静電容量|定数|値|номинал|емкость|pojemność|wartość|kapacitans|kapasitans|värde|kapacitet|kapacitans|værdi"
        "|verdi|kapasitanssi|arvo|hodnota|kapacita|capacitância|capacitancia|kapacitás|érték|"
        "nominal|nominale|nominell|nominel|nominale waarde|marked|marking|printed|print|aufdruck|marquage"
    ),
    "qty": _words(
        "komada|kom|количество бр|수량|개수|bucăți|buc|ποσότητα|τεμάχια|"
        "кол|колич|кількість|к-сть|брой|бр|quantitat|כמות|"
        "adet|miktar|"
        "数量|個数|员数|員数|кол-во|количество|määrä|lukumäärä|antall|darab|darabszám|db|ks|sztuk|liczba|počet kusů|"
        "anz|stck|nbre|nb|kol|aant|pcs|q'ty|qnty|how many|needed|used|required|req'd|reqd|req|number required|"
        "no. required|qty required|qty req'd|quantity required|wanted|to order|to buy|per board|per set|benötigt|"
        "bedarf|nécessaires|necessari|necesarios|nodig|behövs|uds|uds.|ud|unidades|total uds"
        "|qtd|qtde|quantidade|cant.|cdad|q.tà|q.ta|qtà|n. pezzi|antal|stk.|kpl|szt|ilość|počet|qtt|count per board"
    ),
    "volts": _words(
        "napon|내압|전압|정격전압|tensiune|τάση|напруга|напрежение|napetost|tensió|voltatge|מתח|"
        "gerilim|voltaj|耐圧|電圧|定格電圧|напряжение|napięcie|spänning|spænding|spenning|jännite|napětí|tensão|voltagem|feszültség|napätie|"
        "rated|rating v|v rating|w v|work volt|max v|v max|vmax|min voltage|voltage min|min v|min volts|tens|vn|v l|nap"
        "|fesz|напр|напряжение в|耐压"
    ),
    "size reversed": _words(
        "h x d|hxd|l x d|lxd|length x diameter|height x diameter|L x Ø|H x Ø|l*d|h*d|Länge x Durchmesser"
    ),
    "part": (
        *CATALOGUE["part"],
        *_words("型番|品番|артикул|maker's no|maker's number|makers no|makers number"),
        *_words(
            "shop number|shop no|shop code|order code|supplier code|vendor code|stock no|stock number|order nr"
            "|vendor part|distributor part"
        ),
    ),
    "text": _words(
        "品名|規格|仕様|物料名称|元件型号|名称|说明|especificaciones|especificações|linh kiện|"
        "category|kategorie|categoría|categoria|catégorie|part type|component type|"
        "наименование|описание|nazwa|opis|kuvaus|popis|megnevezés|beskrivning|beskrivelse|descrição|"
        "description|desc|details|detail|spec|specs|specification|specifications|rating|ratings"
        "|part name|parts name|name of part|descriptions"
        "|part description|capacitor description|what|data|Beschreibung|Daten|Angaben|caractéristiques"
        "|description du composant|descrizione|caratteristiche|descripción|características|omschrijving"
        "|gegevens|value / voltage|value/voltage|value & voltage|value and voltage|capacitance/voltage"
        "|cap/voltage|capacitance / voltage|beteckning|designation|désignation|pezzo"
        "|wert/spannung|wert / spannung|µf/v|uf/v|µF / V|valeur / tension"
        "|value / description|value/description|wert / beschreibung|waarde / beschrijving|valeur / description"
        "|valeur/tension|valore/tensione|valor/tensión|capacitor|value voltage|caps|rating (uf/v)"
    ),
    "item": _words("item|no|nr|n|line|row|lfd nr|lfd|n°|num|number|index|idx|item number|item no|seq|zeile"),
    "done": _words(
        "交換済|済|zrobione|klart|tehty|hotovo|kész|feito|"
        "done|replaced|checked|ok|tested|bought|ordered|have|erledigt|getauscht|fait|fatto|hecho|klaar|tick"
        "|tick off|got"
    ),
    "doubts": _words("doubts|doubt"),
    "measured": _words(
        "measured|measurement|esr measured|measured esr|gemessen|mesuré|misurato|medido|measured capacitance"
        "|measured value|reading|esr reading|actual|actual value"
    ),
    "ref": _words(
        "oznaka|부품번호|부품|번호|위치|reper|simbol|σύμβολο|θέση|позначення|означение|referència|סימון|"
        "désignateur|designatore|designador|identificador|desig|comp|circ ref|board ref|cap ref|cap id|capacitor no"
        "|kennzeichen|kennz|ozn|označ|součástka|jel|поз обозначение|位号|编号|"
        "部品番号|番号|記号|部品|部品記号|回路番号|位置|обозначение|позиция|поз|oznaczenie|bestyckning|tunnus"
        "|označení|jelölés|pozice|referência|componente|betegnelse|"
        "rif|rif.|riferimento|rep.|ref #|ref#|sigle|sigla|etichetta|nome|bez.|"
        "cap#|c#|location|loc|circuit ref|circuit reference|kondensator nr|bauteil nr|bauteil-nr|elko|elkos|name"
        "|label|symbol|part ref|bezeichnung|caps ref|pos.|posn|kennung|nummer|capacitors|cap number"
        "|position no|silkscreen|repere|parts|identifier|identifiers|id code|ref(s)|designator(s)|reference(s)"
        "|refdes(s)|komponenter|komponent|ref designator|part id|marking on board"
    ),
    "board": _words(
        "bord|doska|dosky|pločica|ploča|기판|보드|placă|placi|πλακέτα|plošča|"
        "基板|基板名|плата|płytka|kort|kortti|kretskort|plade|deska|levy|panel|"
        "assy|ass'y|assy no|pwb|pba|board name|pcb name|area|stage|sub-assembly|subassembly|bereich|stufe|zone"
    ),
    "mount": _words(
        "muntatge|izvedba|"
        "形状|取付|montering|montaż|asennus|provedení|исполнение|montagem|utförande|"
        "bentyp|axial/radial|radial/axial|ax/rad|rad/ax|package type|radial or axial|a/r|r/a|mounting style|bauart"
    ),
    "kind": _words(
        "vrsta|종류|tipul|τύπος|видове|вид|tipus|סוג|"
        "種類|種別|材質|тип|rodzaj|tyyppi|druh|típus|laji|slag|sort|"
        "np|bp|np?|bp?|np/bp|sorte|slags|polarized|polarised|polar|bipolar|cap type|construction type|style|"
        "gepolt|polung|polarität|polarisé|polarité|polarizzato|polarità|polarizado|polaridad|gepolariseerd|polariteit"
    ),
    "pitch": _words(
        "ピッチ|足間隔|足ピッチ|delning|bensavstånd|benafstand|rozteč|jalkaväli|шаг|rozstaw|"
        "lead|lead sp|lead spc|lead pitch mm|lead dist|lead distance|pin distance|rastermass|hole pitch|lp"
    ),
    "temp": _words(
        "hőfok|θερμοκρασία|температура °c|"
        "温度|температура|temperatur|lämpötila|teplota|hőmérséklet|t|tmax|t max|temp.|temp c|grad"),
    "height": _words(
        "高さ|высота|wysokość|höjd|højde|høyde|korkeus|výška|magasság|altura mm|длина|długość|längd|délka|長さ"
    ),
    "note": _words(
        "napomena|opomba|비고|observații|mențiuni|παρατηρήσεις|σημειώσεις|примітка|примітки|забележка|забележки|observacions|הערות|"
        "net|nets|net name|netname|rail|signal|node|connected to|connection|connections|pins|"
        "備考|注記|コメント|примечание|примечания|uwagi|uwaga|anmärkning|anmärkningar|bemærkning|bemærkninger|merknad"
        "|huomautus|huom|huomio|poznámka|poznámky|observação|observações|megjegyzés|kommentar|kommentarer"
        "|bem|anm|rem|obs|oss|opm|pozn|megj"
    ),
    "diameter": _words("直径|径|диаметр|średnica|śr|halkaisija|průměr|átmérő|diâmetro|dia.|can dia|max dia"),
    "passed over": (
        *(word for word in PASSED_OVER if word not in {"category", "Kategorie"}),
        *(word for field in _OF_NO_USE for word in CATALOGUE[field]),
        *_words(
            "total|subtotal|sum|summe|shop|supplier|vendor|distributor|source|lieferant|total price|extended"
            "|ext price|page|schematic page|sheet|sheet no|schematic sheet|library|grid|coordinates|coord|year|date"
            "|layer|side|rotation|rot|x|y|pos x|pos y|posx|posy|mid x|mid y|ref x|ref y|lot|age|seite|lage|drehung"
        ),
    ),
}
"""Fields beside those of the canonical list, and further words for these."""

REPLACEMENT_WORDS: Final = frozenset(
    "replacement replace replaced replacing new neu neue neuer suggested suggestion upgrade upgraded recommended "
    "recommendation substitute subst sub ersatz ersetzt "
    "ersatztyp ersatzwert vorschlag remplacement remplaçant nouveau nouvelle sostituto sostituzione sostitutivo "
    "nuovo nuova ricambio sustituto reemplazo nuevo nueva recambio vervanging "
    "vervanger nieuw nieuwe proposed ersätts ersättning udskiftes erstattes erstatning zamiennik zamienić korvaava "
    "náhrada substituto substituição замена 交換 "
    "modern equivalent alternative alt. repl fit used after kit preferred".split()
)
ORIGINAL_WORDS: Final = frozenset(
    "original orig old alt alter alte factory stock existing oem oe originale origine d'origine ancien ancienne "
    "originaal oud oude viejo antiguo vecchio vecchia original's "
    "before vorher zuvor avant prima antes voorheen tidigere innan tidigare "
    "ist fitted present schematic current was installed printed built found".split()
)
NOW_WORDS: Final = frozenset("fitted installed eingebaut monté montato montado geplaatst".split())
"""Of the words for the original those that beside a plainer one (``Original``) say what is in its place now."""
