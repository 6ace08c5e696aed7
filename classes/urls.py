from django.urls import path

from classes.amounts import views as amounts
from classes.calendars import views as calendars
from classes.diets import views as diets
from classes.dough import views as bench
from classes.enrollment.views import bookings as desk
from classes.enrollment.views import door, enroll, public
from classes.enrollment.views import own_page as place
from classes.hours import views as hours
from classes.kitchens import views as kitchens
from classes.money import views as money
from classes.sessions import views as sessions

app_name = "classes"
urlpatterns = [
    path("open/", public.open_list, name="open_list"),
    path("open/calendar.ics", calendars.public_calendar, name="calendar"),
    path("open/<slug:code>/", public.open_class_page, name="open_class"),
    path("open/<slug:code>/hold/", enroll.hold, name="hold"),
    path("open/<slug:code>/wait/", public.wait, name="wait"),
    path("classes/", sessions.class_list, name="list"),
    path("classes/new/", sessions.class_new, name="new"),
    path("classes/verdict/", hours.verdict, name="verdict"),
    path("classes/<slug:code>/", sessions.class_detail, name="detail"),
    path("classes/<slug:code>/edit/", sessions.class_edit, name="edit"),
    path("classes/<slug:code>/hours/", hours.hours, name="hours"),
    path("classes/<slug:code>/hours/settings/", hours.hours_settings, name="hours_settings"),
    path("classes/<slug:code>/hours/what-if/", hours.what_if, name="what_if"),
    path("classes/<slug:code>/roster/", sessions.roster, name="roster"),
    path("classes/<slug:code>/roster/<int:pk>/new-link/", sessions.new_link, name="new_link"),
    path("classes/<slug:code>/amounts/", amounts.amounts, name="amounts"),
    path("classes/<slug:code>/amounts.json", amounts.amounts_json, name="amounts_json"),
    path("classes/<slug:code>/amounts.csv", amounts.amounts_csv_file, name="amounts_csv"),
    path("classes/<slug:code>/preparation/", amounts.prepare, name="prepare"),
    path("classes/<slug:code>/enrollment/", desk.enrollment, name="enrollment"),
    path(
        "classes/<slug:code>/enrollment/<int:pk>/cancel/",
        desk.booking_cancel,
        name="booking_cancel",
    ),
    path("classes/<slug:code>/money/", money.money, name="money"),
    path("classes/<slug:code>/money/costs/", money.costs, name="costs"),
    path("classes/<slug:code>/money.csv", money.money_csv, name="money_csv"),
    path("classes/<slug:code>/letters/", desk.letters, name="letters"),
    path("classes/<slug:code>/door/", door.door, name="door"),
    path("classes/<slug:code>/diets/", diets.diets, name="diets"),
    path("classes/<slug:code>/diets/decide/", diets.diet_decide, name="diet_decide"),
    path("classes/<slug:code>/changes/", amounts.changes, name="changes"),
    path("money/", money.all_money, name="all_money"),
    path("recipes/<slug:slug>/water/", bench.water, name="water"),
    path("recipes/<slug:slug>/rise/", bench.rise, name="rise"),
    path("enroll/<str:token>/", enroll.enroll, name="enroll"),
    path("waiting/<str:token>/", public.waiting, name="waiting"),
    path("calendar/<str:token>.ics", calendars.own_calendar, name="own_calendar"),
    path("mine/<str:token>/", place.place, name="place"),
    path("mine/<str:token>/eat/", place.place_change, name="place_change"),
    path("mine/<str:token>/cancel/", place.place_cancel, name="place_cancel"),
    path("mine/<str:token>/move/", place.place_move, name="place_move"),
    path("mine/<str:token>/erase/", place.place_erase, name="place_erase"),
    path("mine/<str:token>/held/", place.place_data, name="place_data"),
    path("mine/<str:token>/class.ics", place.event, name="event"),
    path("kitchens/", kitchens.kitchen_list, name="kitchens"),
    path("kitchens/new/", kitchens.kitchen_new, name="kitchen_new"),
    path("kitchens/<int:pk>/", kitchens.kitchen_edit, name="kitchen"),
    path("kitchens/<int:pk>/pantry/", kitchens.pantry, name="pantry"),
]
