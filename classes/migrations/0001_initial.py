import classes.models.kitchen
import classes.models.session
import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('recipes', '0001_initial'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='ClassSession',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(default=classes.models.session.new_code, editable=False, max_length=6, unique=True)),
                ('title', models.CharField(max_length=100)),
                ('starts_at', models.DateTimeField()),
                ('ends_at', models.DateTimeField()),
                ('seats', models.PositiveIntegerField(validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(200)])),
                ('count_empty_seats', models.BooleanField(default=True, help_text='Until the roster is full, amounts and shopping also cover the seats still open.', verbose_name='plan for empty seats too')),
                ('handling_loss_percent', models.DecimalField(decimal_places=1, default=3, help_text='Added to the pooled dough for what sticks to bowls and hands.', max_digits=4, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(50)], verbose_name='handling loss, %')),
                ('rises_in', models.CharField(choices=[('bench', 'On the bench, in the room'), ('cabinet', 'In the proof cabinet')], default='bench', max_length=8, verbose_name='dough rises')),
                ('welcome_min', models.PositiveIntegerField(default=10, validators=[django.core.validators.MaxValueValidator(240)], verbose_name='welcome and cautions, min')),
                ('weighing_min', models.PositiveIntegerField(default=20, help_text='For each recipe, before it is mixed.', validators=[django.core.validators.MaxValueValidator(240)], verbose_name='weighing, min')),
                ('show_min', models.PositiveIntegerField(default=5, help_text='What you show before mixing and before shaping; everybody watches.', validators=[django.core.validators.MaxValueValidator(240)], verbose_name='watching, min')),
                ('cleanup_min', models.PositiveIntegerField(default=10, help_text='After a station has loaded its bread.', validators=[django.core.validators.MaxValueValidator(240)], verbose_name='cleaning up, min')),
                ('break_at', models.DateTimeField(blank=True, null=True, verbose_name='break')),
                ('break_min', models.PositiveIntegerField(default=10, validators=[django.core.validators.MaxValueValidator(240)], verbose_name='break, min')),
                ('taken', models.PositiveIntegerField(default=0, editable=False)),
                ('is_open', models.BooleanField(default=False, verbose_name='open for enrollment')),
                ('about', models.TextField(blank=True, max_length=2000, verbose_name='what you will bake and take home')),
                ('level', models.CharField(blank=True, choices=[('first', 'For a first loaf'), ('some', 'For some practice'), ('much', 'For a lot of practice')], max_length=10)),
                ('bring', models.TextField(blank=True, max_length=1000, verbose_name='what to bring')),
                ('currency', models.CharField(editable=False, max_length=3)),
                ('price_minor', models.PositiveBigIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(100000000000)])),
                ('deposit_minor', models.PositiveBigIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(100000000000)])),
                ('refund_days', models.PositiveIntegerField(default=7, validators=[django.core.validators.MaxValueValidator(365)], verbose_name='full refund until, days before')),
                ('transfer_days', models.PositiveIntegerField(default=2, validators=[django.core.validators.MaxValueValidator(365)], verbose_name='move to another class until, days before')),
                ('least_people', models.PositiveIntegerField(default=1, verbose_name='takes place from, people')),
                ('decide_on', models.DateField(blank=True, null=True, verbose_name='decided by')),
                ('change_number', models.PositiveIntegerField(default=0, editable=False)),
                ('notes', models.TextField(blank=True, max_length=2000)),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('assistants', models.ManyToManyField(blank=True, related_name='classes_assisted', to=settings.AUTH_USER_MODEL)),
                ('instructor', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='classes_taught', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ('starts_at', 'pk'),
            },
        ),
        migrations.CreateModel(
            name='ClassCost',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=60, verbose_name='what for')),
                ('amount_minor', models.PositiveBigIntegerField()),
                ('per', models.CharField(choices=[('class', 'Once for the class'), ('person', 'For each person')], default='class', max_length=6, verbose_name='how often')),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='costs', to='classes.classsession')),
            ],
            options={
                'ordering': ('pk',),
            },
        ),
        migrations.CreateModel(
            name='KeptPlan',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('made_for', models.CharField(max_length=64)),
                ('document', models.JSONField()),
                ('made_at', models.DateTimeField()),
                ('session', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='kept_plan', to='classes.classsession')),
            ],
        ),
        migrations.CreateModel(
            name='Kitchen',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=80)),
                ('place', models.CharField(blank=True, max_length=200, verbose_name='where it is')),
                ('access_facts', models.TextField(blank=True, help_text='Steps, doors, parking, toilets.', max_length=1000, verbose_name='how to get in')),
                ('first_aid_place', models.CharField(blank=True, max_length=120, verbose_name='first-aid box')),
                ('emergency_number', models.CharField(blank=True, max_length=20, verbose_name='emergency number')),
                ('guidance', models.CharField(choices=[('all', 'Say all of them'), ('us', 'United States'), ('europe', 'EU, UK and Ireland'), ('oceania', 'Australia and New Zealand')], default='all', help_text='Countries give different figures for keeping cold, cooling food, burns and lists of allergens. Papers print those of the region you choose, from sources that are named in the program and partly known only second-hand. Your local authority comes first in every case.', max_length=8, verbose_name='whose guidance leads')),
                ('time_zone', models.CharField(default='UTC', max_length=40, validators=[classes.models.kitchen.validate_time_zone])),
                ('currency', models.CharField(default='EUR', help_text='The currency of new classes and prices. Amounts entered earlier keep theirs.', max_length=3, validators=[classes.models.kitchen.validate_currency])),
                ('room_c', models.DecimalField(decimal_places=1, default=21, max_digits=4, validators=[django.core.validators.MinValueValidator(-5), django.core.validators.MaxValueValidator(50)], verbose_name='room, °C')),
                ('flour_c', models.DecimalField(decimal_places=1, default=20, max_digits=4, validators=[django.core.validators.MinValueValidator(-5), django.core.validators.MaxValueValidator(50)], verbose_name='flour, °C')),
                ('tap_c', models.DecimalField(decimal_places=1, default=14, max_digits=4, validators=[django.core.validators.MinValueValidator(-5), django.core.validators.MaxValueValidator(50)], verbose_name='tap water, °C')),
                ('night_c', models.DecimalField(blank=True, decimal_places=1, help_text='Where preferments stand overnight. If blank: as warm as the room.', max_digits=4, null=True, validators=[django.core.validators.MinValueValidator(-5), django.core.validators.MaxValueValidator(50)], verbose_name='room at night, °C')),
                ('cabinet_c', models.DecimalField(blank=True, decimal_places=1, help_text='If blank: it is set to what the recipe says.', max_digits=4, null=True, validators=[django.core.validators.MinValueValidator(-5), django.core.validators.MaxValueValidator(50)], verbose_name='proof cabinet, °C')),
                ('proof_places', models.PositiveIntegerField(default=0, verbose_name='places in the proof cabinet')),
                ('refrigerator_places', models.PositiveIntegerField(default=0, verbose_name='places in the refrigerator')),
                ('bowls', models.PositiveIntegerField(default=0)),
                ('altitude_m', models.PositiveIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(5000)], verbose_name='height above sea level, m')),
                ('owner', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ('name',),
            },
        ),
        migrations.AddField(
            model_name='classsession',
            name='kitchen',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='sessions', to='classes.kitchen'),
        ),
        migrations.CreateModel(
            name='Mixer',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=40)),
                ('capacity_g', models.PositiveIntegerField(default=2000, validators=[django.core.validators.MinValueValidator(100)], verbose_name='most dough, g')),
                ('friction_c', models.DecimalField(blank=True, decimal_places=1, max_digits=4, null=True, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(40)], verbose_name='warms the dough, °C')),
                ('kitchen', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='mixers', to='classes.kitchen')),
            ],
            options={
                'ordering': ('name',),
            },
        ),
        migrations.CreateModel(
            name='Oven',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=40)),
                ('slots', models.PositiveIntegerField(default=2, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(100)], verbose_name='loaves at once')),
                ('has_fan', models.BooleanField(default=False, verbose_name='fan')),
                ('preheat_min', models.PositiveIntegerField(default=35, validators=[django.core.validators.MaxValueValidator(240)], verbose_name='preheat, min')),
                ('turnaround_min', models.PositiveIntegerField(default=5, validators=[django.core.validators.MaxValueValidator(120)], verbose_name='between loads, min')),
                ('kitchen', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='ovens', to='classes.kitchen')),
            ],
            options={
                'ordering': ('name',),
            },
        ),
        migrations.CreateModel(
            name='Pack',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kinds', models.JSONField()),
                ('page_size', models.CharField(max_length=8)),
                ('only_changed', models.BooleanField(default=False)),
                ('layout', models.CharField(blank=True, max_length=40)),
                ('state', models.CharField(choices=[('waiting', 'waiting'), ('running', 'being made'), ('done', 'done'), ('failed', 'could not be made')], default='waiting', max_length=8)),
                ('done', models.PositiveIntegerField(default=0)),
                ('total', models.PositiveIntegerField(default=0)),
                ('pages', models.PositiveIntegerField(default=0)),
                ('printed', models.JSONField(default=dict)),
                ('problems', models.JSONField(default=list)),
                ('pdf', models.BinaryField(null=True)),
                ('made_at', models.DateTimeField()),
                ('finished_at', models.DateTimeField(null=True)),
                ('by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='packs', to='classes.classsession')),
            ],
            options={
                'ordering': ('-made_at', '-pk'),
            },
        ),
        migrations.CreateModel(
            name='Printed',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('paper', models.CharField(max_length=40)),
                ('lines', models.JSONField(default=dict)),
                ('at', models.DateTimeField()),
                ('by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='printed', to='classes.classsession')),
            ],
            options={
                'ordering': ('-at', '-pk'),
            },
        ),
        migrations.CreateModel(
            name='PrivateLook',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('what', models.CharField(max_length=80)),
                ('at', models.DateTimeField()),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='looks', to='classes.classsession')),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ('-at', '-pk'),
            },
        ),
        migrations.CreateModel(
            name='Scale',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('step_g', models.CharField(choices=[('1', '1 g'), ('0.1', '0.1 g'), ('0.01', '0.01 g')], default='1', max_length=4, verbose_name='step')),
                ('count', models.PositiveIntegerField(default=1, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(100)], verbose_name='how many')),
                ('kitchen', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='scales', to='classes.kitchen')),
            ],
            options={
                'ordering': ('-step_g',),
            },
        ),
        migrations.CreateModel(
            name='Station',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveIntegerField(default=0)),
                ('name', models.CharField(max_length=40)),
                ('places', models.PositiveIntegerField(default=4, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(40)])),
                ('kitchen', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='stations', to='classes.kitchen')),
            ],
            options={
                'ordering': ('position', 'pk'),
            },
        ),
        migrations.AddField(
            model_name='classsession',
            name='stations',
            field=models.ManyToManyField(related_name='sessions', to='classes.station'),
        ),
        migrations.CreateModel(
            name='StockItem',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('on_hand_g', models.DecimalField(decimal_places=1, default=0, max_digits=9, validators=[django.core.validators.MinValueValidator(0)], verbose_name='in stock, g')),
                ('pack_g', models.DecimalField(blank=True, decimal_places=1, max_digits=9, null=True, validators=[django.core.validators.MinValueValidator(1)], verbose_name='pack, g')),
                ('pack_price_minor', models.PositiveBigIntegerField(blank=True, null=True, validators=[django.core.validators.MaxValueValidator(100000000000)])),
                ('price_currency', models.CharField(blank=True, editable=False, max_length=3)),
                ('ingredient', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='recipes.ingredient')),
                ('kitchen', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='stock', to='classes.kitchen')),
            ],
            options={
                'ordering': ('ingredient__name',),
            },
        ),
        migrations.CreateModel(
            name='TaughtRecipe',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveIntegerField(default=0)),
                ('pieces_each', models.PositiveIntegerField(default=1, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(99)], verbose_name='pieces each')),
                ('piece_g', models.DecimalField(decimal_places=1, max_digits=7, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(20000)], verbose_name='dough in one piece, g')),
                ('demonstration_batches', models.PositiveIntegerField(default=1, validators=[django.core.validators.MaxValueValidator(9)], verbose_name='demonstration batches')),
                ('dusting_g', models.DecimalField(decimal_places=1, default=15, max_digits=5, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(500)], verbose_name='dusting flour each, g')),
                ('mixing', models.CharField(choices=[('hand', 'Everybody by hand'), ('shown', 'Students by hand, the demonstration by mixer'), ('mixer', 'Everybody by mixer')], default='hand', max_length=6, verbose_name='mixed')),
                ('pieces_a_place', models.PositiveIntegerField(blank=True, help_text='If blank: a pan of the recipe, or about 500 g of small pieces.', null=True, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(100)], verbose_name='pieces in one oven place')),
                ('brings_mixed', models.BooleanField(default=False, verbose_name='dough you bring mixed')),
                ('brings_risen', models.BooleanField(default=False, verbose_name='dough you bring risen')),
                ('brings_shaped', models.BooleanField(default=False, verbose_name='pieces you bring shaped')),
                ('dusting_flour', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='recipes.ingredient')),
                ('revision', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='taught', to='recipes.revision')),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='taught', to='classes.classsession')),
                ('variant', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='recipes.variant', verbose_name='everybody bakes the variant')),
            ],
            options={
                'ordering': ('position', 'pk'),
            },
        ),
        migrations.CreateModel(
            name='Tick',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('key', models.CharField(max_length=160)),
                ('done_at', models.DateTimeField(auto_now_add=True)),
                ('done_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, to=settings.AUTH_USER_MODEL)),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='ticks', to='classes.classsession')),
            ],
            options={
                'ordering': ('done_at',),
            },
        ),
        migrations.CreateModel(
            name='KeptPaper',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('digest', models.CharField(max_length=64)),
                ('pdf', models.BinaryField()),
                ('made_at', models.DateTimeField()),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='kept_papers', to='classes.classsession')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('session', 'digest'), name='kept_paper_once')],
            },
        ),
        migrations.AddConstraint(
            model_name='kitchen',
            constraint=models.UniqueConstraint(fields=('owner', 'name'), name='kitchen_name_once_an_owner'),
        ),
        migrations.AddConstraint(
            model_name='kitchen',
            constraint=models.CheckConstraint(condition=models.Q(('guidance__in', ['all', 'us', 'europe', 'oceania'])), name='kitchen_guidance_known'),
        ),
        migrations.AddConstraint(
            model_name='mixer',
            constraint=models.UniqueConstraint(fields=('kitchen', 'name'), name='mixer_name_once'),
        ),
        migrations.AddConstraint(
            model_name='mixer',
            constraint=models.CheckConstraint(condition=models.Q(('capacity_g__gt', 0)), name='mixer_holds_dough'),
        ),
        migrations.AddConstraint(
            model_name='oven',
            constraint=models.UniqueConstraint(fields=('kitchen', 'name'), name='oven_name_once'),
        ),
        migrations.AddConstraint(
            model_name='oven',
            constraint=models.CheckConstraint(condition=models.Q(('slots__gt', 0)), name='oven_has_slots'),
        ),
        migrations.AddConstraint(
            model_name='scale',
            constraint=models.UniqueConstraint(fields=('kitchen', 'step_g'), name='scale_step_once'),
        ),
        migrations.AddConstraint(
            model_name='station',
            constraint=models.UniqueConstraint(fields=('kitchen', 'name'), name='station_name_once'),
        ),
        migrations.AddConstraint(
            model_name='station',
            constraint=models.CheckConstraint(condition=models.Q(('places__gt', 0)), name='station_has_places'),
        ),
        migrations.AddConstraint(
            model_name='classsession',
            constraint=models.CheckConstraint(condition=models.Q(('ends_at__gt', models.F('starts_at'))), name='class_ends_later'),
        ),
        migrations.AddConstraint(
            model_name='classsession',
            constraint=models.CheckConstraint(condition=models.Q(('seats__gte', 1), ('seats__lte', 200)), name='class_seats_in_range'),
        ),
        migrations.AddConstraint(
            model_name='classsession',
            constraint=models.CheckConstraint(condition=models.Q(('taken__lte', models.F('seats'))), name='class_never_oversold'),
        ),
        migrations.AddConstraint(
            model_name='classsession',
            constraint=models.CheckConstraint(condition=models.Q(('currency', ''), _negated=True), name='class_has_currency'),
        ),
        migrations.AddConstraint(
            model_name='classsession',
            constraint=models.CheckConstraint(condition=models.Q(('handling_loss_percent__gte', 0), ('handling_loss_percent__lte', 50)), name='class_loss_in_range'),
        ),
        migrations.AddConstraint(
            model_name='stockitem',
            constraint=models.UniqueConstraint(fields=('kitchen', 'ingredient'), name='stock_once_a_kitchen'),
        ),
        migrations.AddConstraint(
            model_name='stockitem',
            constraint=models.CheckConstraint(condition=models.Q(('on_hand_g__gte', 0), models.Q(('pack_g', None), ('pack_g__gt', 0), _connector='OR')), name='stock_not_negative'),
        ),
        migrations.AddConstraint(
            model_name='stockitem',
            constraint=models.CheckConstraint(condition=models.Q(('pack_price_minor', None), models.Q(('price_currency', ''), _negated=True), _connector='OR'), name='stock_price_has_currency'),
        ),
        migrations.AddConstraint(
            model_name='taughtrecipe',
            constraint=models.UniqueConstraint(fields=('session', 'revision'), name='taught_once_a_class'),
        ),
        migrations.AddConstraint(
            model_name='taughtrecipe',
            constraint=models.CheckConstraint(condition=models.Q(('pieces_each__gt', 0), ('piece_g__gt', 0), ('dusting_g__gte', 0)), name='taught_makes_something'),
        ),
        migrations.AddConstraint(
            model_name='tick',
            constraint=models.UniqueConstraint(fields=('session', 'key'), name='tick_once_a_line'),
        ),
    ]
