import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='Component',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveIntegerField()),
                ('kind', models.CharField(choices=[('dough', 'Dough'), ('preferment', 'Preferment'), ('roux', 'Roux'), ('soaker', 'Soaker'), ('filling', 'Filling'), ('wash', 'Wash'), ('topping', 'Topping')], max_length=10)),
                ('name', models.CharField(max_length=60)),
                ('for_pieces', models.PositiveIntegerField(blank=True, null=True)),
                ('cooking_loss_percent', models.DecimalField(blank=True, decimal_places=2, default=0, max_digits=5, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
            ],
            options={
                'ordering': ('position',),
            },
        ),
        migrations.CreateModel(
            name='Book',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('home_region', models.CharField(choices=[('us', 'United States'), ('uk', 'United Kingdom and Ireland'), ('au', 'Australia'), ('ca', 'Canada'), ('eu', 'European Union')], max_length=2)),
            ],
            options={
                'constraints': [models.CheckConstraint(condition=models.Q(('pk', 1)), name='book_once')],
            },
        ),
        migrations.CreateModel(
            name='Ingredient',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('key', models.SlugField(max_length=80, unique=True)),
                ('name', models.CharField(max_length=80)),
                ('kind', models.CharField(choices=[('flour', 'Flour'), ('liquid', 'Liquid'), ('salt', 'Salt'), ('yeast', 'Yeast'), ('starter', 'Starter'), ('sugar', 'Sugar and syrup'), ('fat', 'Fat'), ('egg', 'Egg'), ('dairy', 'Dairy'), ('seed', 'Seed'), ('nut', 'Nut'), ('grain', 'Grain'), ('fruit', 'Fruit'), ('vegetable', 'Vegetable'), ('spice', 'Spice and herb'), ('other', 'Other')], max_length=12)),
                ('ndb', models.CharField(blank=True, max_length=5, verbose_name='SR28 number')),
                ('water_percent', models.DecimalField(blank=True, decimal_places=2, max_digits=5, null=True, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
                ('protein_percent', models.DecimalField(blank=True, decimal_places=2, max_digits=5, null=True, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
                ('fat_percent', models.DecimalField(blank=True, decimal_places=2, max_digits=5, null=True, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
                ('carbohydrate_percent', models.DecimalField(blank=True, decimal_places=2, max_digits=5, null=True, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
                ('fiber_percent', models.DecimalField(blank=True, decimal_places=2, max_digits=5, null=True, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
                ('ash_percent', models.DecimalField(blank=True, decimal_places=2, max_digits=5, null=True, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
                ('sodium_mg', models.PositiveIntegerField(blank=True, null=True, verbose_name='sodium, mg in 100 g')),
                ('energy_kcal', models.PositiveIntegerField(blank=True, null=True, verbose_name='energy, kcal in 100 g')),
                ('density_g_per_ml', models.DecimalField(blank=True, decimal_places=5, max_digits=7, null=True)),
                ('density_source', models.CharField(blank=True, max_length=120)),
                ('each_g', models.DecimalField(blank=True, decimal_places=2, max_digits=8, null=True)),
                ('each_name', models.CharField(blank=True, max_length=40)),
                ('part_share', models.DecimalField(blank=True, decimal_places=4, max_digits=5, null=True)),
                ('hydration_percent', models.DecimalField(blank=True, decimal_places=2, max_digits=5, null=True, validators=[django.core.validators.MinValueValidator(20), django.core.validators.MaxValueValidator(500)], verbose_name='water, in percent of its flour')),
                ('pack_g', models.DecimalField(blank=True, decimal_places=2, max_digits=9, null=True)),
                ('aisle', models.CharField(blank=True, max_length=40)),
                ('storage', models.CharField(choices=[('ambient', 'Ambient'), ('chilled', 'Chilled'), ('frozen', 'Frozen')], default='ambient', max_length=8)),
                ('tap', models.BooleanField(default=False, verbose_name='from the tap, never bought')),
                ('allergens_us', models.JSONField(blank=True, default=list)),
                ('allergens_eu', models.JSONField(blank=True, default=list)),
                ('allergens_read', models.BooleanField(default=False, verbose_name='the pack was read, and nothing else of the two lists is in it')),
                ('may_contain', models.CharField(blank=True, max_length=200)),
                ('note', models.CharField(blank=True, max_length=300)),
                ('owner', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, to=settings.AUTH_USER_MODEL)),
                ('part_of', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='parts', to='recipes.ingredient')),
            ],
            options={
                'ordering': ('name',),
            },
        ),
        migrations.CreateModel(
            name='FormulaLine',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveIntegerField()),
                ('mass_g', models.DecimalField(decimal_places=4, max_digits=11)),
                ('entered', models.CharField(blank=True, max_length=40)),
                ('note', models.CharField(blank=True, max_length=120)),
                ('component', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='lines', to='recipes.component')),
                ('ingredient', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, to='recipes.ingredient')),
            ],
            options={
                'ordering': ('position',),
            },
        ),
        migrations.CreateModel(
            name='Recipe',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('slug', models.SlugField(max_length=100, unique=True)),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('import_mark', models.CharField(blank=True, max_length=64, verbose_name='mark of the text it was read from')),
                ('owner', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, to=settings.AUTH_USER_MODEL)),
            ],
        ),
        migrations.CreateModel(
            name='Photo',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('image', models.ImageField(upload_to='photos/')),
                ('alt', models.CharField(max_length=160, verbose_name='what it shows')),
                ('added_at', models.DateTimeField(auto_now_add=True)),
                ('recipe', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='photos', to='recipes.recipe')),
            ],
            options={
                'ordering': ('added_at', 'pk'),
            },
        ),
        migrations.CreateModel(
            name='Revision',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('number', models.PositiveIntegerField(default=1)),
                ('is_current', models.BooleanField(default=True)),
                ('in_use', models.BooleanField(default=False)),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('title', models.CharField(max_length=100)),
                ('summary', models.CharField(blank=True, max_length=300)),
                ('note', models.TextField(blank=True, max_length=2000)),
                ('piece_name', models.CharField(default='loaf', max_length=30, verbose_name='what one piece is called')),
                ('pieces', models.PositiveIntegerField(default=1, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(999)], verbose_name='pieces')),
                ('piece_g', models.DecimalField(decimal_places=1, max_digits=7, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(20000)], verbose_name='dough in one piece, g')),
                ('bake_loss_percent', models.DecimalField(blank=True, decimal_places=2, default=0, max_digits=5, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
                ('dough_temperature_c', models.DecimalField(blank=True, decimal_places=1, max_digits=4, null=True, validators=[django.core.validators.MinValueValidator(-30), django.core.validators.MaxValueValidator(350)])),
                ('core_temperature_c', models.DecimalField(blank=True, decimal_places=1, max_digits=4, null=True, validators=[django.core.validators.MinValueValidator(-30), django.core.validators.MaxValueValidator(350)])),
                ('equipment', models.TextField(blank=True, max_length=2000)),
                ('bread_kind', models.CharField(blank=True, choices=[('lean', 'Lean'), ('soft or rich', 'Soft or rich'), ('pan loaf', 'Pan loaf'), ('dense whole grain', 'Dense whole grain')], max_length=20, verbose_name='kind of bread')),
                ('pan_shape', models.CharField(blank=True, choices=[('round', 'Round'), ('square', 'Square'), ('rectangular', 'Rectangular'), ('loaf', 'Loaf'), ('tray', 'Tray')], max_length=12, verbose_name='its own pan')),
                ('pan_length_mm', models.PositiveIntegerField(blank=True, null=True, validators=[django.core.validators.MinValueValidator(10), django.core.validators.MaxValueValidator(10000)], verbose_name='length or diameter, mm')),
                ('pan_width_mm', models.PositiveIntegerField(blank=True, null=True, validators=[django.core.validators.MinValueValidator(10), django.core.validators.MaxValueValidator(10000)], verbose_name='width, mm')),
                ('pan_depth_mm', models.PositiveIntegerField(blank=True, null=True, validators=[django.core.validators.MinValueValidator(10), django.core.validators.MaxValueValidator(10000)], verbose_name='depth, mm')),
                ('pan_water_ml', models.PositiveIntegerField(blank=True, null=True, validators=[django.core.validators.MaxValueValidator(100000)], verbose_name='holds, ml of water')),
                ('recipe', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='revisions', to='recipes.recipe')),
            ],
            options={
                'ordering': ('title', '-number'),
            },
        ),
        migrations.AddField(
            model_name='component',
            name='revision',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='components', to='recipes.revision'),
        ),
        migrations.CreateModel(
            name='StarterFlour',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('percent', models.DecimalField(decimal_places=2, max_digits=5, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(100)])),
                ('flour', models.ForeignKey(on_delete=django.db.models.deletion.RESTRICT, related_name='in_starters', to='recipes.ingredient')),
                ('starter', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='made_of', to='recipes.ingredient')),
            ],
            options={
                'ordering': ('-percent', 'flour__name'),
            },
        ),
        migrations.CreateModel(
            name='Step',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveIntegerField()),
                ('kind', models.CharField(choices=[('prepare', 'Prepare'), ('mix', 'Mix'), ('bulk', 'Bulk fermentation'), ('divide', 'Divide and shape'), ('rest', 'Bench rest'), ('proof', 'Proof'), ('score', 'Score'), ('bake', 'Bake'), ('cool', 'Cool')], max_length=8)),
                ('text', models.CharField(max_length=600)),
                ('hands_on_min', models.PositiveIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(1440)])),
                ('waiting_min', models.PositiveIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(10080)])),
                ('temperature_c', models.DecimalField(blank=True, decimal_places=1, max_digits=4, null=True, validators=[django.core.validators.MinValueValidator(-30), django.core.validators.MaxValueValidator(350)])),
                ('temperature_of', models.CharField(blank=True, choices=[('dough', 'Dough'), ('room', 'Room or cabinet'), ('refrigerator', 'Refrigerator'), ('oven', 'Oven')], max_length=12)),
                ('worked', models.CharField(blank=True, choices=[('hand', 'By hand'), ('machine', 'By machine'), ('pan', 'In a pan, on heat')], max_length=7)),
                ('revision', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='steps', to='recipes.revision')),
            ],
            options={
                'ordering': ('position',),
            },
        ),
        migrations.CreateModel(
            name='Variant',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=60)),
                ('revision', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='variants', to='recipes.revision')),
            ],
            options={
                'ordering': ('name',),
            },
        ),
        migrations.CreateModel(
            name='VariantSwap',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveIntegerField()),
                ('component_name', models.CharField(blank=True, max_length=60)),
                ('parts', models.DecimalField(decimal_places=2, default=1, max_digits=7)),
                ('by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='recipes.ingredient')),
                ('replaced', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='recipes.ingredient')),
                ('variant', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='swaps', to='recipes.variant')),
            ],
            options={
                'ordering': ('position',),
            },
        ),
        migrations.AddConstraint(
            model_name='ingredient',
            constraint=models.UniqueConstraint(fields=('owner', 'name'), name='ingredient_name_once_an_owner'),
        ),
        migrations.AddConstraint(
            model_name='ingredient',
            constraint=models.UniqueConstraint(condition=models.Q(('owner', None)), fields=('name',), name='ingredient_name_once_shared'),
        ),
        migrations.AddConstraint(
            model_name='ingredient',
            constraint=models.CheckConstraint(condition=models.Q(('density_g_per_ml', None), ('density_g_per_ml__gt', 0), _connector='OR'), name='ingredient_density_positive'),
        ),
        migrations.AddConstraint(
            model_name='ingredient',
            constraint=models.CheckConstraint(condition=models.Q(('each_g', None), ('each_g__gt', 0), _connector='OR'), name='ingredient_each_positive'),
        ),
        migrations.AddConstraint(
            model_name='ingredient',
            constraint=models.CheckConstraint(condition=models.Q(('part_of', None), models.Q(('part_share__gt', 0), ('part_share__isnull', False), ('part_share__lte', 1)), _connector='OR'), name='ingredient_part_has_share'),
        ),
        migrations.AddConstraint(
            model_name='ingredient',
            constraint=models.CheckConstraint(condition=models.Q(('pack_g', None), ('pack_g__gt', 0), _connector='OR'), name='ingredient_pack_positive'),
        ),
        migrations.AddConstraint(
            model_name='ingredient',
            constraint=models.CheckConstraint(condition=models.Q(('hydration_percent', None), models.Q(('hydration_percent__gt', 0), ('kind', 'starter')), _connector='OR'), name='ingredient_hydration_of_starter'),
        ),
        migrations.AddConstraint(
            model_name='formulaline',
            constraint=models.UniqueConstraint(fields=('component', 'position'), name='line_position_once'),
        ),
        migrations.AddConstraint(
            model_name='formulaline',
            constraint=models.CheckConstraint(condition=models.Q(('mass_g__gt', 0)), name='line_mass_positive'),
        ),
        migrations.AddConstraint(
            model_name='revision',
            constraint=models.UniqueConstraint(fields=('recipe', 'number'), name='revision_number_once'),
        ),
        migrations.AddConstraint(
            model_name='revision',
            constraint=models.UniqueConstraint(condition=models.Q(('is_current', True)), fields=('recipe',), name='revision_one_current'),
        ),
        migrations.AddConstraint(
            model_name='revision',
            constraint=models.CheckConstraint(condition=models.Q(('piece_g__gt', 0), ('pieces__gt', 0)), name='revision_makes_something'),
        ),
        migrations.AddConstraint(
            model_name='component',
            constraint=models.UniqueConstraint(fields=('revision', 'position'), name='component_position_once'),
        ),
        migrations.AddConstraint(
            model_name='component',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('for_pieces__gt', 0), ('kind__in', ('filling', 'wash', 'topping'))), models.Q(models.Q(('kind__in', ('filling', 'wash', 'topping')), _negated=True), ('for_pieces', None)), _connector='OR'), name='component_pieces_beside_dough'),
        ),
        migrations.AddConstraint(
            model_name='component',
            constraint=models.CheckConstraint(condition=models.Q(('cooking_loss_percent__gte', 0), ('cooking_loss_percent__lt', 100)), name='component_cooking_loss_in_range'),
        ),
        migrations.AddConstraint(
            model_name='starterflour',
            constraint=models.UniqueConstraint(fields=('starter', 'flour'), name='starter_flour_once'),
        ),
        migrations.AddConstraint(
            model_name='starterflour',
            constraint=models.CheckConstraint(condition=models.Q(('percent__gt', 0)), name='starter_flour_positive'),
        ),
        migrations.AddConstraint(
            model_name='step',
            constraint=models.UniqueConstraint(fields=('revision', 'position'), name='step_position_once'),
        ),
        migrations.AddConstraint(
            model_name='variant',
            constraint=models.UniqueConstraint(fields=('revision', 'name'), name='variant_name_once'),
        ),
        migrations.AddConstraint(
            model_name='variantswap',
            constraint=models.CheckConstraint(condition=models.Q(('parts__gt', 0)), name='variant_parts_positive'),
        ),
    ]
