"""What a word says a part is made of, and how it is held, as data, in the languages lists come in most.

Keys are lower case, accents kept and also folded away when they are looked up. Further languages are in
:mod:`recap.normalise.words_abroad`. Sources: common practice of lists, service sheets and catalogues.
"""

from __future__ import annotations

from typing import Final

from recap.model import Kind, Mount
from recap.normalise import words_abroad

KIND_WORDS: Final[dict[str, Kind]] = {
    **dict.fromkeys(
        (
            "electrolytic electrolytics electrolyt electro electros lytic lytics elyt elco elcos elco's elko elkos "
            "elko's elka "
            "elektrolyt elektrolytkondensator elektrolytkondensatoren elektrolytics kleinelko kleinelkos becherelko "
            "becherelkos netzelko netzelkos siebelko siebelkos ladeelko ladeelkos rollelko rollelkos doppelelko "
            "doppelelkos miniaturelko chimique chimiques electrochimique électrochimique électrolytique "
            "électrolytiques elettrolitico elettrolitici elettrolitica elettrolitiche electrolítico electrolíticos "
            "elektrolytisch elektrolytische elektrolytkondensatorer elektrolit aluminium-elektrolyt alu-elko "
            "aluelko al-elko alum-elec electrolytique lelektrolyt eletrolítico eletrolíticos "
            "e-cap e-caps ecap ecaps elcap elcaps aluminium-electrolytic aluminum-electrolytic cp-electrolytic "
            "ellyt ellytkondensator électro electrolit elyte elytes elkoliste elkotausch elkosatz elkoset "
            "elkoaufstellung elko-liste elcolijst"
        ).split(),
        Kind.ELECTROLYTIC,
    ),
    **dict.fromkeys(
        (
            "smd-elko|smdelko|chip elko|radialelko|axialelko|schraubelko|schraub-elko|"
            "e. capacitor|e. capacitors|e. cap|e. caps|e.capacitor|e.cap|"
            "aluminum electrolytic|aluminium electrolytic|alu elko|al elko|alum elec|alum. elec.|elec. cap|elec cap"
            "|condensateur chimique|condensateurs chimiques|elect. cap|wet electrolytic|el. cap|al. elec|alum elect"
            "|alcap|alucap|elcap|cond. elettr|cond elettr|elettrol|electrol|eletrol|elektrol|"
            "elettr|cond. chim|cond chim|chim"
            "|elctlt|elctlyt|elctrlt|alum|alu|aluminum|aluminium|aluminio|alluminio|cap alum|aluminum elec"
            "|aluminium elec|alu electrolytic|alu. elko|alum. electrolytic|alum electrolytic|elect|elec"
        ).split("|"),
        Kind.ELECTROLYTIC,
    ),
    **dict.fromkeys(
        (
            "bipolar|bipolars|bi-polar|bi-polars|bi polar|bi-polarized|bi-polarised|bipolarized|bipolarised|"
            "bi polarized|bi polarised|"
            "bipolaire|bipolaires|bipolare|bipolari|bipolarer|bipolares|bipolair|bipolaire"
            "|non-polar|non-polars|non polar|nonpolar|nonpolars|non-polarised|non-polarized|non polarised|non polarized"
            "|nonpolarised"
            "|nonpolarized|unpolarised|unpolarized|un-polarised|un-polarized|unpolarisiert|ungepolt|ungepolter"
            "|unipolar (np)|nicht gepolt|nicht polarisiert|non polarisé|non polarisés|non polarizzato|non polarizzati"
            "|non polarizz|no polariz|non polaris|nicht pol|nicht polar|ungep|unpol|bipol|apol"
            "|apolar|apolare|apolares|no polarizado|no polar|no polarizados|despolarizado|ongepolariseerd"
            "|niet gepolariseerd|non-polaire"
            "|non polaire|n.p.|np|bp|b.p.|b/p|n/p|n-p|b-p|nonpol|non-pol|non pol|bipol|bi-pol|tonfrequenzelko"
            "|tonfrequenz-elko|nonpolair|no-polar|not polarised|not polarized|bipolar elko|bipolar-elko|bip|bip."
            "|n.pol.|npe|bpe"
            "|ungepolte|nichtpolar|nicht polar|non-polarisé|non-polarizzato|np/bp|bp/np|bipolarelko|unpolar|dépolarisé"
        ).split("|"),
        Kind.BIPOLAR,
    ),
    **dict.fromkeys(
        (
            "tantalum|tantalums|tantal|tantalelko|tantal-elko|tantale|tantalio|tántalo|tantalo|tantaal|tant|tants"
            "|tantals"
            "|tantalkondensator|tantalelkos|tantal elko|tantalum electrolytic|tantalum bead|tant.|tantal-perle"
            "|tantalperle|perltantal|solid tantalum|dipped tantalum"
        ).split("|"),
        Kind.TANTALUM,
    ),
    **dict.fromkeys(
        (
            "film|films|foil|foils|fol|folie|folien|folienkondensator|folienkondensatoren|folienkondensator|polyester|polyprop|poly"
            "|polypropylene|polypropylen|polypropylène|polystyrene|polystyrol|styroflex|mylar|mkt|mkp|mks|mkc|fkp|fks"
            "|mkh|kp|ks|metallised|metallized|metallised polyester|metallized polyester|metal film|plastic film"
            "|film plastique|film polyester|greencap|green cap|pps|pet"
            "|filmbox|film box|styrene|folko|folkos|plstc"
            "|polycarbonate|polycarbonat|styrofleks"
            "|polistirolo|polistirene|poliestireno|polystyreen|polycarbonaat|policarbonato|poliestere|poliéster|poliest|poliprop|polipropilene|polipropileno|mmkp|mkp10|styro|styros|polye"
        ).split("|"),
        Kind.FILM,
    ),
    **dict.fromkeys(
        (
            "ceramic|ceramics|ceramique|céramique|céramiques|keramik|keramisch|kerko|kerkos|keramikkondensator"
            "|ceramico|ceramici"
            "|cerámico|cerámicos|mlcc|disc ceramic|ceramic disc|monolithic|x7r|x5r|np0|c0g|cog|y5v|z5u|keramische|ker."
            "|cerámica|ceramica|cer|scheibenkondensator"
            "|disc"
        ).split("|"),
        Kind.CERAMIC,
    ),
    **dict.fromkeys(
        (
            "safety cap|safety capacitor|safety|x-cap|y-cap|x cap|y cap"
            "|x-class|y-class|klasse x|klasse y|classe x|classe y"
            "|entstörkondensator|funkentstörkondensator"
            "|interference suppression|mains suppression|mains suppressor"
            "|suppression cap|suppression capacitor|suppressor cap|suppressor capacitor"
            "|x class|y class|class x|class y|entstör|antiparasite|antidisturbo"
            "|seguridad|sécurité|sicurezza|veiligheid"
        ).split("|"),
        Kind.SAFETY,
    ),
    **dict.fromkeys(
        (
            "paper|paper in oil|oil paper|papier|papierkondensator|pio|metallpapier|mp|papel|carta|wax paper|wax"
            "|mica|silver mica|glimmer|supercap|super cap|supercapacitor|goldcap|gold cap|doppelschicht"
            "|double layer|edlc"
            "|motor capacitor|motor cap|run capacitor|start capacitor|motorkondensator"
            "|motorkondensatoren|betriebskondensator|anlaufkondensator|condensateur moteur|condensateur de démarrage"
            "|condensatore motore|condensatore di avviamento|condensador de motor|condensador de arranque"
            "|motorcondensator|aanloopcondensator"
            "|polymer|polymere|organic polymer|solid polymer|hybrid polymer|trimmer|os-con"
        ).split("|"),
        Kind.OTHER,
    ),
    **words_abroad.KIND_WORDS,
}
"""What a word says the part is made of."""

MOUNT_WORDS: Final[dict[str, Mount]] = {
    **dict.fromkeys(
        (
            "radiell|radiella|"
            "radial|radials|radial lead|radial leads|radial leaded|rad|rad.|radiaal|radiale|radiali|radiales"
            "|radiaux|radialen|radiaux"
            "|stehend|stehende|stehender|stehendes|stehend radial|verticale|verticali|vertical|upright|staand"
            "|single ended|single-ended|single end|pcb mount radial|debout|in piedi|rdl|radialelko"
        ).split("|"),
        Mount.RADIAL,
    ),
    **dict.fromkeys(
        (
            "axial|axials|axial lead|axial leads|axial leaded|axiaux|axiaal|axiale|assiale|assiali|axiales|ax|ax."
            "|liegend|liegende|liegender"
            "|liggend|couché|couche|double ended|double-ended|axialen|axl|horizontal axial|rollelko|rollelkos"
            "|coricato|axialelko|orizzontale|orizzontali|sdraiato"
        ).split("|"),
        Mount.AXIAL,
    ),
    **dict.fromkeys(
        (
            "snap-in|snap in|snapin|snap-ins|snap ins|snapins|snap-mount|snap mount|snap fit|snap-fit|einrast"
            "|einrastbar"
            "|solder-in|snap|printsnap|print-snap|snap-on|snap on|snap lock|snap-in can|à clipser"
        ).split("|"),
        Mount.SNAP_IN,
    ),
    **dict.fromkeys(
        (
            "smd|smt|smds|surface mount|surface-mount|surface mounted|surface-mounted|surface mnt|v-chip|vchip"
            "|chip elko"
            "|smd-elko|cms|montage en surface|montaje superficial|montaggio superficiale"
            "|oberflächenmontage|smdelko|opp.montage"
        ).split("|"),
        Mount.SMD,
    ),
    **dict.fromkeys(
        (
            "screw|screw terminal|screw terminals|screw-terminal|screw mount|schraubanschluss|schraubelko"
            "|schraub-elko|schraubanschlüsse"
            "|schraubklemme|à vis|a vite|tornillo|schroef|schroefaansluiting|screw lug|schraub|schraubkontakt"
        ).split("|"),
        Mount.SCREW,
    ),
    **words_abroad.MOUNT_WORDS,
}
"""What a word says of how the part is held. ``rollelko`` states kind and mount."""
