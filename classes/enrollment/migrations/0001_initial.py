import classes.enrollment.models.booking
import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('classes', '0001_initial'),
        ('recipes', '0001_initial'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='BakedVariant',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('variant', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='recipes.variant')),
            ],
        ),
        migrations.CreateModel(
            name='Booking',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('link_nonce', models.CharField(default=classes.enrollment.models.booking.new_link_nonce, editable=False, max_length=32)),
                ('seats', models.PositiveIntegerField(validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(6)])),
                ('state', models.CharField(choices=[('held', 'Held'), ('confirmed', 'Confirmed'), ('canceled', 'Canceled'), ('run out', 'Not accepted in time')], default='held', max_length=10)),
                ('form_key', models.CharField(editable=False, max_length=64, unique=True)),
                ('held_until', models.DateTimeField(blank=True, null=True)),
                ('held_by', models.CharField(blank=True, editable=False, max_length=32)),
                ('held_place', models.PositiveSmallIntegerField(blank=True, editable=False, null=True)),
                ('name', models.CharField(blank=True, max_length=80)),
                ('email', models.EmailField(blank=True, max_length=254)),
                ('phone', models.CharField(blank=True, max_length=40)),
                ('price_minor', models.PositiveBigIntegerField(default=0)),
                ('refund_due_minor', models.PositiveBigIntegerField(default=0)),
                ('told_of', models.PositiveIntegerField(default=0, editable=False)),
                ('made_at', models.DateTimeField()),
                ('confirmed_at', models.DateTimeField(blank=True, null=True)),
                ('canceled_at', models.DateTimeField(blank=True, null=True)),
                ('erased_at', models.DateTimeField(blank=True, null=True)),
                ('moved_to', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='moved_from', to='enrollment.booking')),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='bookings', to='classes.classsession')),
            ],
            options={
                'ordering': ('made_at', 'pk'),
            },
        ),
        migrations.CreateModel(
            name='Enrollment',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('link_nonce', models.CharField(default=classes.enrollment.models.booking.new_link_nonce, editable=False, max_length=32)),
                ('position', models.PositiveIntegerField(default=0)),
                ('name', models.CharField(max_length=80)),
                ('diet', models.CharField(blank=True, choices=[('', 'Not asked yet'), ('nothing', 'Nothing'), ('told', 'As written'), ('private', 'Wants to say it in private'), ('silent', 'Prefers not to answer')], default='', max_length=8)),
                ('allergens', models.JSONField(blank=True, default=list)),
                ('must_not_eat', models.CharField(blank=True, max_length=300)),
                ('told_since', models.JSONField(blank=True, default=dict, editable=False)),
                ('blanked_at', models.DateTimeField(blank=True, null=True)),
                ('door', models.CharField(blank=True, choices=[('', 'Expected'), ('came', 'Came'), ('absent', 'Absent')], default='', max_length=8)),
                ('walked_in', models.BooleanField(default=False)),
                ('home', models.JSONField(blank=True, default=dict, verbose_name='kitchen at home')),
                ('mark', models.CharField(default=classes.enrollment.models.booking.new_link_nonce, editable=False, max_length=32)),
                ('booking', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='people', to='enrollment.booking')),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='enrollments', to='classes.classsession')),
                ('station', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to='classes.station')),
                ('variants', models.ManyToManyField(blank=True, related_name='+', through='enrollment.BakedVariant', to='recipes.variant')),
            ],
            options={
                'ordering': ('position', 'pk'),
            },
        ),
        migrations.CreateModel(
            name='DietDecision',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('way', models.CharField(choices=[('variant', 'They bake a variant'), ('other-task', 'They have another task'), ('taken-out', 'It is taken out for them'), ('talked-over', 'Talked over with them')], max_length=12)),
                ('note', models.CharField(blank=True, max_length=200)),
                ('basis', models.JSONField(default=dict)),
                ('decided_at', models.DateTimeField()),
                ('decided_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('revision', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='+', to='recipes.revision')),
                ('enrollment', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='decisions', to='enrollment.enrollment')),
            ],
        ),
        migrations.AddField(
            model_name='bakedvariant',
            name='enrollment',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='+', to='enrollment.enrollment'),
        ),
        migrations.CreateModel(
            name='Payment',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('amount_minor', models.BigIntegerField()),
                ('means', models.CharField(choices=[('cash', 'Cash'), ('card reader', 'Card reader'), ('transfer', 'Bank transfer')], max_length=12)),
                ('paid_on', models.DateField()),
                ('note', models.CharField(blank=True, max_length=120)),
                ('form_key', models.CharField(editable=False, max_length=64, unique=True)),
                ('noted_at', models.DateTimeField(auto_now_add=True)),
                ('booking', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='payments', to='enrollment.booking')),
                ('noted_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ('paid_on', 'pk'),
            },
        ),
        migrations.CreateModel(
            name='Waiting',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('link_nonce', models.CharField(default=classes.enrollment.models.booking.new_link_nonce, editable=False, max_length=32)),
                ('name', models.CharField(blank=True, max_length=80)),
                ('email', models.EmailField(blank=True, max_length=254)),
                ('seats', models.PositiveIntegerField(default=1, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(6)])),
                ('state', models.CharField(choices=[('waiting', 'Waiting'), ('offered', 'Offered a seat'), ('booked', 'Booked'), ('passed', 'Did not answer in time'), ('left', 'Left the list')], default='waiting', max_length=8)),
                ('form_key', models.CharField(editable=False, max_length=64, unique=True)),
                ('made_at', models.DateTimeField()),
                ('offered_at', models.DateTimeField(blank=True, null=True)),
                ('booking', models.OneToOneField(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='waited', to='enrollment.booking')),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='waiting', to='classes.classsession')),
            ],
            options={
                'ordering': ('made_at', 'pk'),
            },
        ),
        migrations.CreateModel(
            name='Letter',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('confirmation', 'Confirmation'), ('reminder', 'Reminder'), ('change', 'Change of time or place'), ('offer', 'A seat has come free'), ('canceled', 'Cancellation'), ('thanks', 'Thank you, with the handout')], max_length=12)),
                ('key', models.CharField(max_length=120, unique=True)),
                ('to', models.EmailField(blank=True, max_length=254)),
                ('subject', models.CharField(blank=True, max_length=200)),
                ('text', models.TextField(blank=True)),
                ('html', models.TextField(blank=True)),
                ('calendar', models.TextField(blank=True)),
                ('state', models.CharField(choices=[('queued', 'Waiting to be sent'), ('sending', 'Being sent'), ('sent', 'Sent'), ('written', 'Written to a file, not sent'), ('failed', 'Could not be sent')], default='queued', max_length=8)),
                ('tries', models.PositiveIntegerField(default=0)),
                ('not_before', models.DateTimeField()),
                ('made_at', models.DateTimeField()),
                ('sent_at', models.DateTimeField(blank=True, null=True)),
                ('problem', models.CharField(blank=True, max_length=200)),
                ('booking', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='letters', to='enrollment.booking')),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='letters', to='classes.classsession')),
                ('waiting', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='letters', to='enrollment.waiting')),
            ],
            options={
                'ordering': ('made_at', 'pk'),
            },
        ),
        migrations.AddIndex(
            model_name='booking',
            index=models.Index(fields=['session', 'state'], name='booking_of_class'),
        ),
        migrations.AddConstraint(
            model_name='booking',
            constraint=models.CheckConstraint(condition=models.Q(('seats__gt', 0)), name='booking_has_seats'),
        ),
        migrations.AddConstraint(
            model_name='booking',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('state', 'held'), _negated=True), ('held_until__isnull', False), _connector='OR'), name='booking_held_for_a_time'),
        ),
        migrations.AddConstraint(
            model_name='booking',
            constraint=models.UniqueConstraint(condition=models.Q(('state', 'held'), models.Q(('held_by', ''), _negated=True)), fields=('session', 'held_by', 'held_place'), name='booking_one_form_a_place'),
        ),
        migrations.AddConstraint(
            model_name='dietdecision',
            constraint=models.UniqueConstraint(fields=('enrollment', 'revision'), name='diet_decision_once_a_recipe'),
        ),
        migrations.AddConstraint(
            model_name='bakedvariant',
            constraint=models.UniqueConstraint(fields=('enrollment', 'variant'), name='variant_once_a_student'),
        ),
        migrations.AddConstraint(
            model_name='payment',
            constraint=models.CheckConstraint(condition=models.Q(('amount_minor', 0), _negated=True), name='payment_of_something'),
        ),
        migrations.AddIndex(
            model_name='waiting',
            index=models.Index(fields=['session', 'state'], name='waiting_for_class'),
        ),
        migrations.AddConstraint(
            model_name='waiting',
            constraint=models.CheckConstraint(condition=models.Q(('seats__gt', 0)), name='waiting_for_seats'),
        ),
        migrations.AddIndex(
            model_name='letter',
            index=models.Index(fields=['state', 'not_before'], name='letters_due'),
        ),
    ]
