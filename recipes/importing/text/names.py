"""What else cooks call the seeded ingredients, by key, and which are meant by a bare word.

Common trade and household names of several countries, from memory; nothing here is a brand.
"""

from __future__ import annotations

from recipes.importing.text.words import word_set

# Names that mean this ingredient and no other.
OTHER_NAMES: dict[str, str] = {
    "bread-flour": "strong white bread flour|strong white flour|strong flour|white bread flour"
    "|strong bread flour|high gluten flour|high protein flour|bakers flour",
    "all-purpose-flour": "plain flour|plain white flour|ap flour|all purpose white flour|apf",
    "whole-wheat-flour": "wholemeal flour|wholewheat flour|whole meal flour|wholemeal bread flour"
    "|whole wheat bread flour|wholemeal wheat flour|strong wholemeal flour|whole grain wheat flour",
    "rye-flour": "medium rye flour",
    "dark-rye-flour": "dark rye flour|whole rye flour|wholemeal rye flour|whole grain rye flour"
    "|pumpernickel flour",
    "light-rye-flour": "light rye flour|white rye flour",
    "spelt-flour": "whole spelt flour|wholemeal spelt flour|spelt",
    "semolina": "semolina|semola|semolina flour|durum flour|durum wheat flour|semola rimacinata"
    "|durum wheat semolina",
    "oat-flour": "oat flour",
    "cornmeal": "corn meal|polenta|maize meal|yellow cornmeal",
    "rice-flour": "white rice flour|rice flour",
    "vital-wheat-gluten": "wheat gluten|gluten|vital gluten|gluten flour",
    "rolled-oats": "oats|porridge oats|oatmeal|old fashioned oats|old fashioned rolled oats"
    "|oat flakes|quick oats",
    "wheat-bran": "bran",
    "wheat-germ": "wheatgerm",
    "bulgur": "bulgur wheat|cracked wheat|bulghur",
    "rye-grain": "rye grains|rye berries|rye kernels|whole rye grain",
    "water": "tap water|ice water|ice",
    "whole-milk": "full fat milk|full cream milk|whole cow milk",
    "skim-milk": "skimmed milk|nonfat milk|fat free milk|non fat milk",
    "buttermilk": "cultured buttermilk|butter milk",
    "heavy-cream": "double cream|whipping cream|heavy whipping cream",
    "soy-drink": "soy milk|soya milk|soya drink|soy beverage",
    "beer": "ale|lager|stout|dark beer",
    "cider-vinegar": "apple cider vinegar|cyder vinegar|apple vinegar",
    "table-salt": "fine salt|cooking salt|iodized salt|fine table salt",
    "fine-sea-salt": "fine grain sea salt",
    "coarse-flake-salt-light": "light coarse flake salt",
    "coarse-flake-salt-dense": "dense coarse flake salt",
    "instant-yeast": "instant dry yeast|instant dried yeast|idy|fast action yeast|rapid rise yeast"
    "|fast action dried yeast|fast acting yeast|easy bake yeast|easy bake dried yeast|quick yeast"
    "|quick rise yeast|easy blend yeast|easy blend dried yeast|bread machine yeast"
    "|fast rising yeast|fast acting dried yeast|instant active dry yeast",
    "active-dry-yeast": "active dried yeast|dried active yeast|ady|active yeast"
    "|traditional dry yeast",
    "fresh-yeast": "compressed yeast|cake yeast|fresh compressed yeast|fresh bakers yeast"
    "|live yeast",
    "sugar": "granulated sugar|white sugar|caster sugar|castor sugar|superfine sugar|cane sugar"
    "|white granulated sugar|fine sugar|table sugar|golden caster sugar",
    "brown-sugar": "light brown sugar|soft brown sugar|dark brown sugar|muscovado sugar"
    "|light brown soft sugar|dark brown soft sugar|light muscovado sugar|demerara sugar",
    "powdered-sugar": "icing sugar|confectioners sugar|confectioner's sugar|confectioners' sugar"
    "|icing powder",
    "honey": "runny honey|clear honey|liquid honey",
    "molasses": "treacle|black treacle|dark molasses|unsulphured molasses|unsulfured molasses",
    "malt-syrup": "malt extract|barley malt extract|liquid malt|malt syrup|barley malt",
    "maple-syrup": "maple",
    "butter": "unsalted butter|sweet butter",
    "salted-butter": "salted butter",
    "olive-oil": "extra virgin olive oil|evoo|virgin olive oil",
    "canola-oil": "rapeseed oil|colza oil",
    "lard": "pork lard|leaf lard",
    "egg": "hen egg",
    "egg-white": "egg white|white of egg",
    "egg-yolk": "egg yolk|yolk",
    "skim-milk-powder": "milk powder|dry milk|powdered milk|dried milk|nonfat dry milk"
    "|dry milk powder|dried milk powder|skimmed milk powder|powdered skim milk|instant dry milk"
    "|nonfat dry milk powder|dried skimmed milk",
    "yogurt": "yoghurt|plain yogurt|plain yoghurt|natural yogurt|natural yoghurt|whole milk yogurt",
    "cheddar": "cheddar",
    "parmesan": "parmesan",
    "mozzarella": "mozzarella",
    "feta": "feta",
    "sesame-seeds": "sesame|white sesame seeds|black sesame seeds",
    "sunflower-seeds": "sunflower kernels|hulled sunflower seeds",
    "pumpkin-seeds": "pepitas|pumpkin kernels|hulled pumpkin seeds",
    "poppy-seeds": "poppyseeds|poppy seed|blue poppy seeds",
    "flaxseed": "flax seed|linseed|flax|golden flaxseed|brown linseed|golden linseed",
    "tahini": "tahini paste|sesame paste|tahina",
    "walnuts": "walnut halves|walnut pieces|walnut kernels",
    "almonds": "flaked almonds|slivered almonds|sliced almonds",
    "hazelnuts": "hazel nuts|cobnuts",
    "pecans": "pecan nuts|pecan halves",
    "pine-nuts": "pine kernels|pignoli",
    "raisins": "seedless raisins|dark raisins",
    "golden-raisins": "sultanas",
    "dried-currants": "currants|zante currants",
    "dried-apricots": "dried apricot halves",
    "orange-zest": "zest of orange|grated orange rind|orange rind|orange peel",
    "potato": "floury potato|baking potato|russet potato|potato flesh",
    "onion": "yellow onion|brown onion|white onion",
    "garlic": "garlic clove|clove of garlic",
    "sun-dried-tomatoes": "sundried tomatoes|dried tomatoes",
    "dark-chocolate": "dark chocolate chips|bittersweet chocolate|dark chocolate chunks",
    "black-pepper": "ground black pepper|cracked black pepper",
    "cardamom": "cardamom|ground cardamom|cardamom powder",
    "cinnamon": "cinnamon|ground cinnamon|cinnamon powder",
    "ginger": "ground ginger|ginger powder|dried ginger",
    "nutmeg": "nutmeg|ground nutmeg|grated nutmeg",
    "dried-oregano": "dried oregano",
    "vanilla-extract": "vanilla essence|pure vanilla extract",
    "malt-flour": "diastatic malt powder|diastatic malt|malt powder|barley malt powder|malt flour"
    "|diastatic malt flour|non diastatic malt powder|diastatic barley malt powder",
    "cocoa": "cocoa|cocoa powder|unsweetened cocoa powder|baking cocoa",
    "cornstarch": "corn starch|maize starch",
    "baking-soda": "bicarbonate of soda|bicarb|sodium bicarbonate|bicarb soda",
    "baking-powder": "double acting baking powder",
}

# A bare word leaves open which one: the likeliest is proposed and the others offered.
BARE_NAMES: dict[str, tuple[str, ...]] = {
    "flour": ("all-purpose-flour", "bread-flour", "whole-wheat-flour"),
    "white flour": ("all-purpose-flour", "bread-flour"),
    "wheat flour": ("all-purpose-flour", "bread-flour", "whole-wheat-flour"),
    "rye": ("rye-flour", "dark-rye-flour", "light-rye-flour"),
    "rye flour": ("rye-flour", "dark-rye-flour", "light-rye-flour"),
    "whole wheat": ("whole-wheat-flour",),
    "salt": ("table-salt", "fine-sea-salt"),
    "sea salt": ("fine-sea-salt", "coarse-flake-salt-light", "coarse-flake-salt-dense"),
    "kosher salt": ("coarse-flake-salt-light", "coarse-flake-salt-dense"),
    "coarse salt": ("coarse-flake-salt-dense", "coarse-flake-salt-light"),
    "coarse sea salt": ("coarse-flake-salt-dense", "coarse-flake-salt-light"),
    "flake salt": ("coarse-flake-salt-light", "coarse-flake-salt-dense"),
    "flaky salt": ("coarse-flake-salt-light", "coarse-flake-salt-dense"),
    "flaked salt": ("coarse-flake-salt-light", "coarse-flake-salt-dense"),
    "sea salt flakes": ("coarse-flake-salt-light", "coarse-flake-salt-dense"),
    "flaky sea salt": ("coarse-flake-salt-light", "coarse-flake-salt-dense"),
    "yeast": ("instant-yeast", "active-dry-yeast", "fresh-yeast"),
    "bakers yeast": ("fresh-yeast", "instant-yeast", "active-dry-yeast"),
    "dry yeast": ("active-dry-yeast", "instant-yeast"),
    "dried yeast": ("active-dry-yeast", "instant-yeast"),
    "milk": ("whole-milk", "skim-milk"),
    "semi skimmed milk": ("whole-milk", "skim-milk"),
    "low fat milk": ("skim-milk", "whole-milk"),
    "cream": ("heavy-cream",),
    "oil": ("sunflower-oil", "canola-oil", "olive-oil"),
    "vegetable oil": ("sunflower-oil", "canola-oil"),
    "neutral oil": ("sunflower-oil", "canola-oil"),
    "butter": ("butter", "salted-butter"),
    "vinegar": ("cider-vinegar",),
    "syrup": ("maple-syrup", "malt-syrup"),
    "malt": ("malt-flour", "malt-syrup"),
    "olives": ("black-olives", "green-olives"),
    "chocolate": ("dark-chocolate",),
    "pepper": ("black-pepper",),
    "vanilla": ("vanilla-extract",),
    "orange": ("orange-zest",),
    "rosemary": ("fresh-rosemary", "dried-rosemary"),
    "oregano": ("dried-oregano",),
    "caraway": ("caraway-seeds",),
    "fennel": ("fennel-seeds",),
    "anise": ("anise-seeds",),
    "coriander": ("coriander-seeds",),
    "figs": ("dried-figs",),
    "apricots": ("dried-apricots",),
    "cranberries": ("dried-cranberries",),
    "cheese": ("cheddar", "parmesan", "mozzarella"),
    "cornflour": ("cornstarch", "cornmeal"),
    "corn flour": ("cornmeal", "cornstarch"),
    "bicarbonate": ("baking-soda",),
    "soda": ("baking-soda",),
}

# Words that make another thing of what they stand before, where no name above has them.
CHANGING_WORDS = word_set(
    """coconut almond cashew rice oat soy soya hemp pea vegan plant gluten free dairy nut peanut
    condensed evaporated sour soured cottage ricotta goat sheep self rising raising cake pastry
    bread buckwheat potato tapioca chickpea corn spelt einkorn emmer khorasan wine balsamic malt
    lemon lime orange apple cream cheese spread substitute alternative replacement replacer
    margarine garlic onion celery seasoned pickled smoked rock black pink pancake chili sweet
    golden palm date agave starter sourdough levain poolish biga discard yeastless nutritional
    brewer brewers chocolate cocoa cookie crumb crumbs sauce juice jam paste stock broth powder
    flakes extract essence butter seed berry mixed mix"""
)
